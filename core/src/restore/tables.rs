//! How a type says what it is made of: a list of its fields or words, which the compiler holds against the type.

/// Makes a struct readable. Each field is named as serde's kebab-case names it, or `as "…"`.
///
/// ```text
/// record! { Car { maker, model, chassis_number } }           // what is missing or does not fit is as in `Default`
/// record! { Sign { id, name } may { is_unsafe as "unsafe" } } // the first ones must be there, or the whole is left out
/// record! { Show { units } without { currency } }             // not part of the format
/// record! { Ledger { format, sales } then Ledger::tell_apart } // done once everything is read
/// ```
///
/// A field that is not in the list, or is twice, does not compile.
#[macro_export]
#[doc(hidden)]
macro_rules! record {
    ($kind:ident { $($field:ident $(as $name:literal)?),+ $(,)? } $(without { $($other:ident),+ })? $(then $then:path)?) => {
        impl $crate::restore::Restore for $kind {
            fn blank() -> Self {
                Self::default()
            }

            fn restore(&mut self, json: &$crate::restore::Value, trail: &mut $crate::restore::Trail) -> bool {
                const NAMES: &[&str] = &[$($crate::record!(@name $field $($name)?)),+];
                let read = trail.record(json, self, NAMES, 0);
                $($then(self);)?
                read
            }
        }

        $crate::record!(@fields $kind { $($field),+ } { $($($other),+)? });
    };
    ($kind:ident { $($needed:ident $(as $name:literal)?),+ $(,)? } may {
        $($field:ident $(as $other_name:literal)?),* $(,)?
    }) => {
        impl $crate::restore::Restore for $kind {
            fn blank() -> Self {
                Self {
                    $($needed: $crate::restore::Restore::blank(),)+
                    $($field: $crate::restore::Restore::blank(),)*
                }
            }

            fn restore(&mut self, json: &$crate::restore::Value, trail: &mut $crate::restore::Trail) -> bool {
                const NEEDED: &[&str] = &[$(stringify!($needed)),+];
                const NAMES: &[&str] = &[
                    $($crate::record!(@name $needed $($name)?),)+
                    $($crate::record!(@name $field $($other_name)?),)*
                ];
                const { assert!(NEEDED.len() <= 64, "the reading counts up to 64 of them") };
                trail.record(json, self, NAMES, NEEDED.len())
            }
        }

        $crate::record!(@fields $kind { $($needed,)+ $($field),* } {});
    };
    (@fields $kind:ident { $($field:ident),+ $(,)? } { $($other:ident),* }) => {
        impl $crate::restore::Record for $kind {
            fn field(&mut self, index: usize) -> Option<&mut dyn $crate::restore::Restore> {
                #[allow(non_camel_case_types, clippy::upper_case_acronyms)]
                enum At { $($field),+ }
                let Self { $($field,)+ $($other: _,)* } = self;
                match index {
                    $(at if at == At::$field as usize => Some($field),)+
                    _ => None,
                }
            }
        }
    };
    (@name $field:ident) => { stringify!($field) };
    (@name $field:ident $name:literal) => { $name };
}

/// Makes an enum of plain words readable, and lists them as `ALL`: `words! { Purpose { Buying, Selling, Appraising } }`. A
/// word that is missing or is there twice does not compile.
#[macro_export]
#[doc(hidden)]
macro_rules! words {
    ($kind:ident { $first:ident $(, $word:ident)* $(,)? }) => {
        impl $kind {
            /// Every one, in order.
            pub const ALL: [Self; [stringify!($first) $(, stringify!($word))*].len()] =
                [Self::$first $(, Self::$word)*];
        }

        impl $crate::restore::Restore for $kind {
            fn blank() -> Self {
                Self::$first
            }

            fn restore(&mut self, json: &$crate::restore::Value, trail: &mut $crate::restore::Trail) -> bool {
                const NAMES: &[&str] = &[stringify!($first) $(, stringify!($word))*];
                #[deny(unreachable_patterns)]
                const _: fn($kind) = |word| match word {
                    $kind::$first $(| $kind::$word)* => {}
                };
                match trail.word(json, NAMES).and_then(|place| Self::ALL.get(place)) {
                    Some(word) => {
                        *self = *word;
                        true
                    }
                    None => false,
                }
            }
        }
    };
}

/// Makes a struct around one value readable as that value.
macro_rules! around {
    ($kind:ident) => {
        impl $crate::restore::Restore for $kind {
            fn blank() -> Self {
                Self::default()
            }

            fn restore(&mut self, json: &$crate::restore::Value, trail: &mut $crate::restore::Trail) -> bool {
                self.0.restore(json, trail)
            }
        }
    };
}

pub(crate) use around;
pub use {record, words};
