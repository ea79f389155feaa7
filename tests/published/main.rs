//! Checks against published values: one file a source, which names its title, section, table and edition.

mod worked_example;
