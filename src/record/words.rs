//! Words of the sketch with their meaning.

/// A word of the sketch, and what the page calls it.
pub(crate) type Choice = (&'static str, &'static str);

/// An enum whose values are words of the sketch: each with its word, and where the page asks for it, with what the page calls it.
macro_rules! words {
    ($(#[$about:meta])* $name:ident { $($(#[$doc:meta])* $value:ident = $word:literal;)* }) => {
        $(#[$about])*
        pub enum $name {
            $($(#[$doc])* $value,)*
        }

        impl $name {
            /// The words of the sketch, each with its meaning.
            pub(crate) const WORDS: &'static [(&'static str, Self)] = &[$(($word, Self::$value),)*];

            /// Its word in the sketch and in every report.
            #[must_use]
            pub const fn word(self) -> &'static str {
                match self {
                    $(Self::$value => $word,)*
                }
            }
        }

        $crate::text::in_json_by!($name, word);
    };
    ($(#[$about:meta])* $name:ident {
        $($(#[$doc:meta])* $value:ident = $word:literal, $label:literal;)*
    }) => {
        words! { $(#[$about])* $name { $($(#[$doc])* $value = $word;)* } }

        impl $name {
            /// The words, each with what the page calls it.
            pub(crate) const CHOICES: &'static [$crate::record::Choice] = &[$(($word, $label),)*];
        }
    };
}
pub(super) use words;

/// The words of a table of the readers that the page does not ask for.
pub(super) const fn plain<T: Copy, const N: usize>(table: &[(&'static str, T); N]) -> [Choice; N] {
    let mut out = [("", ""); N];
    let mut i = 0;
    while i < N {
        out[i] = (table[i].0, table[i].0);
        i += 1;
    }
    out
}
