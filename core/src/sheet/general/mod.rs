//! The general type sheet, shipped with the app: any older car with a combustion engine.
