//! From signs to causes.
