//! Rows of a pack, and how their fields lie in 32-bit words.
//!
//! A row is described once, by [`layout!`]: each field with its type and the byte it
//! starts at. From that follow the struct, how it is read from words and how it is
//! written. The low byte of a word comes first, and a field never crosses a word.

use super::words::{byte, halves, high, low, word};

/// What can be a field of a row.
pub(super) trait Field: Sized {
    /// Reads it where it starts at this byte; missing words read as 0.
    fn read(words: &[u32], at: usize) -> Self;
    /// Writes it there, where nothing is written yet; nothing happens where there is no
    /// such word.
    fn write(&self, words: &mut [u32], at: usize);
}

fn put(words: &mut [u32], at: usize, bits: u32) {
    if let Some(word) = words.get_mut(at / 4) {
        *word |= bits << (8 * (at % 4));
    }
}

impl Field for u8 {
    #[inline(always)]
    fn read(words: &[u32], at: usize) -> Self {
        byte(word(words, at / 4), at % 4)
    }

    fn write(&self, words: &mut [u32], at: usize) {
        put(words, at, u32::from(*self));
    }
}

impl Field for u16 {
    #[inline(always)]
    fn read(words: &[u32], at: usize) -> Self {
        let word = word(words, at / 4);
        if at.is_multiple_of(4) {
            low(word)
        } else {
            high(word)
        }
    }

    fn write(&self, words: &mut [u32], at: usize) {
        put(words, at, halves(*self, 0));
    }
}

impl Field for u32 {
    #[inline(always)]
    fn read(words: &[u32], at: usize) -> Self {
        word(words, at / 4)
    }

    fn write(&self, words: &mut [u32], at: usize) {
        put(words, at, *self);
    }
}

impl Field for i32 {
    #[inline(always)]
    fn read(words: &[u32], at: usize) -> Self {
        word(words, at / 4).cast_signed()
    }

    fn write(&self, words: &mut [u32], at: usize) {
        put(words, at, self.cast_unsigned());
    }
}

/// Bit 0 of a byte.
impl Field for bool {
    #[inline(always)]
    fn read(words: &[u32], at: usize) -> Self {
        u8::read(words, at) & 1 != 0
    }

    fn write(&self, words: &mut [u32], at: usize) {
        u8::from(*self).write(words, at);
    }
}

/// One after the other.
impl<F: Field, const N: usize> Field for [F; N] {
    #[inline(always)]
    fn read(words: &[u32], at: usize) -> Self {
        core::array::from_fn(|i| F::read(words, at + i * size_of::<F>()))
    }

    fn write(&self, words: &mut [u32], at: usize) {
        for (i, field) in self.iter().enumerate() {
            field.write(words, at + i * size_of::<F>());
        }
    }
}

/// A row of fixed size.
pub(super) trait Row: Sized {
    /// Its size in words.
    const WORDS: usize;
    /// From its words; missing words read as 0.
    fn read(words: &[u32]) -> Self;
}

/// Describes a row: its size in words, and each field with the byte it starts at.
macro_rules! layout {
    (
        $(#[$about:meta])*
        $name:ident: $size:literal words {
            $($(#[$meaning:meta])* $field:ident: $type:ty, at $at:literal;)*
        }
    ) => {
        $(#[$about])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub struct $name {
            $($(#[$meaning])* pub $field: $type,)*
        }

        impl $crate::pack::layout::Row for $name {
            const WORDS: usize = $size;

            #[inline(always)]
            fn read(words: &[u32]) -> Self {
                use $crate::pack::layout::Field;
                Self { $($field: <$type as Field>::read(words, $at),)* }
            }
        }

        impl $name {
            /// Its words.
            #[must_use]
            pub fn words(&self) -> [u32; $size] {
                use $crate::pack::layout::Field;
                let mut words = [0; $size];
                $(self.$field.write(&mut words, $at);)*
                words
            }
        }
    };
}

/// Describes a field that is one of some variants, by their numbers: a byte, or as many
/// as `$number` has. A number that stands for none of them reads as the last.
macro_rules! variants {
    (
        $(#[$about:meta])*
        $name:ident: $number:ty {
            $($(#[$meaning:meta])* $variant:ident = $value:literal,)*
            ..
            $(#[$last_meaning:meta])* $last:ident = $last_value:literal
        }
    ) => {
        $(#[$about])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub enum $name {
            $($(#[$meaning])* $variant,)*
            $(#[$last_meaning])* $last,
        }

        impl $crate::pack::layout::Field for $name {
            #[inline(always)]
            fn read(words: &[u32], at: usize) -> Self {
                match <$number as $crate::pack::layout::Field>::read(words, at) {
                    $($value => Self::$variant,)*
                    _ => Self::$last,
                }
            }

            fn write(&self, words: &mut [u32], at: usize) {
                let number: $number = match self {
                    $(Self::$variant => $value,)*
                    Self::$last => $last_value,
                };
                $crate::pack::layout::Field::write(&number, words, at);
            }
        }
    };
}

pub(super) use {layout, variants};
