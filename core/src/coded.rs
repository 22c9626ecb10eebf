//! Enums whose every value has a short code for files.
//!
//! Codes are kept for ever: a value may be added, none is renamed and none is used again.

/// Declares a field-less enum with `ALL`, `code()` and `from_code()`.
macro_rules! coded {
    ($(#[$outer:meta])* $name:ident { $($(#[$inner:meta])* $variant:ident = $code:literal,)+ }) => {
        $(#[$outer])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum $name { $($(#[$inner])* $variant,)+ }

        impl $name {
            /// Every value, in order.
            pub const ALL: &'static [Self] = &[$(Self::$variant,)+];

            /// The code that stands for it in files and keys.
            #[must_use]
            pub const fn code(self) -> &'static str {
                match self { $(Self::$variant => $code,)+ }
            }

            /// The value with this code, if there is one.
            #[must_use]
            pub fn from_code(code: &str) -> Option<Self> {
                match code { $($code => Some(Self::$variant),)+ _ => None }
            }
        }
    };
}

pub(crate) use coded;
