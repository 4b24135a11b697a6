//! How the parts of a design are read from JSON and written to it.
//!
//! Two small macros instead of serde's derive: in the page they cost a tenth of its
//! bytes (30 kB less), and every choice's words stand in one place for reading,
//! writing and offering.

use serde_json::{Map, Value};

/// A part of a design.
pub trait Kept: Sized {
    /// Reads it; nothing when the value is of another kind.
    fn read(value: &Value) -> Option<Self>;
    /// Writes it.
    fn write(&self) -> Value;
}

impl Kept for f64 {
    fn read(value: &Value) -> Option<f64> {
        value.as_f64()
    }

    fn write(&self) -> Value {
        Value::from(*self)
    }
}

impl Kept for u32 {
    fn read(value: &Value) -> Option<u32> {
        let number = value.as_f64()?;
        (number.fract() == 0.0 && (0.0..=f64::from(u32::MAX)).contains(&number))
            .then_some(number as u32)
    }

    fn write(&self) -> Value {
        Value::from(*self)
    }
}

impl Kept for usize {
    fn read(value: &Value) -> Option<usize> {
        u32::read(value).map(|number| number as usize)
    }

    fn write(&self) -> Value {
        Value::from(*self)
    }
}

impl Kept for String {
    fn read(value: &Value) -> Option<String> {
        value.as_str().map(str::to_owned)
    }

    fn write(&self) -> Value {
        Value::from(self.as_str())
    }
}

impl Kept for bool {
    fn read(value: &Value) -> Option<bool> {
        value.as_bool()
    }

    fn write(&self) -> Value {
        Value::from(*self)
    }
}

impl<T: Kept> Kept for Vec<T> {
    fn read(value: &Value) -> Option<Vec<T>> {
        value.as_array()?.iter().map(T::read).collect()
    }

    fn write(&self) -> Value {
        self.iter().map(Kept::write).collect()
    }
}

impl<T: Kept> Kept for Option<T> {
    fn read(value: &Value) -> Option<Option<T>> {
        if value.is_null() {
            Some(None)
        } else {
            T::read(value).map(Some)
        }
    }

    fn write(&self) -> Value {
        self.as_ref().map_or(Value::Null, Kept::write)
    }
}

/// One named part of an object.
pub fn part<T: Kept>(object: &Map<String, Value>, name: &str) -> Option<T> {
    T::read(object.get(name)?)
}

/// Writes one named part of an object.
#[inline(never)]
pub fn add<T: Kept>(object: &mut Map<String, Value>, name: &str, part: &T) {
    object.insert(name.to_owned(), part.write());
}

/// Defines a record whose fields are an object's parts of the same names.
macro_rules! kept_record {
    ($(#[$about:meta])* pub struct $name:ident {
        $($(#[$field_about:meta])* pub $field:ident: $kind:ty,)*
    }) => {
        $(#[$about])*
        #[derive(Clone, Debug, PartialEq)]
        pub struct $name {
            $($(#[$field_about])* pub $field: $kind,)*
        }

        impl $crate::units::kept::Kept for $name {
            fn read(value: &serde_json::Value) -> Option<Self> {
                let object = value.as_object()?;
                Some($name { $($field: $crate::units::kept::part(object, stringify!($field))?,)* })
            }

            fn write(&self) -> serde_json::Value {
                let mut object = serde_json::Map::new();
                $($crate::units::kept::add(&mut object, stringify!($field), &self.$field);)*
                serde_json::Value::Object(object)
            }
        }
    };
}

/// Defines a choice by the words that stand for it in JSON.
macro_rules! kept_choice {
    ($(#[$about:meta])* pub enum $name:ident {
        $($(#[$choice_about:meta])* $choice:ident = $word:literal,)*
    }) => {
        $(#[$about])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub enum $name {
            $($(#[$choice_about])* $choice,)*
        }

        impl $name {
            /// Every one, in the order in which the page offers them.
            pub const ALL: &'static [$name] = &[$($name::$choice,)*];

            /// The words, in the order in which the page offers them.
            pub const WORDS: &'static [&'static str] = &[$($word,)*];

            /// The word for it.
            pub fn word(self) -> &'static str {
                match self {
                    $($name::$choice => $word,)*
                }
            }
        }

        impl $crate::units::kept::Kept for $name {
            fn read(value: &serde_json::Value) -> Option<Self> {
                match value.as_str()? {
                    $($word => Some($name::$choice),)*
                    _ => None,
                }
            }

            fn write(&self) -> serde_json::Value {
                serde_json::Value::from(self.word())
            }
        }
    };
}

pub(crate) use {kept_choice, kept_record};
