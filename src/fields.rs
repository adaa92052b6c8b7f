//! A list of numeric fields, each with its name in a recipe and its limits. The build script reads this file too.

macro_rules! fields {
    ($(#[$meta:meta])* $kind:ident { $($(#[$doc:meta])* $variant:ident $name:literal $low:literal .. $high:literal;)* }) => {
        $(#[$meta])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub enum $kind { $($(#[$doc])* $variant,)* }

        impl $kind {
            /// Every field, in document order.
            pub const ALL: &[$kind] = &[$($kind::$variant,)*];

            /// The field's name in a recipe; it carries the unit.
            pub fn name(self) -> &'static str {
                match self { $($kind::$variant => $name,)* }
            }

            /// The least and the greatest value accepted.
            pub fn limits(self) -> (f64, f64) {
                match self { $($kind::$variant => ($low, $high),)* }
            }
        }
    };
}
