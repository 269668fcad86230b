//! The entries of a scenario file, before anybody has checked them.

use crate::kit::digits::plain;
use serde::de::{Deserialize, DeserializeSeed, Deserializer, IgnoredAny, MapAccess, SeqAccess, Visitor};
use serde::ser::{Serialize, SerializeMap, Serializer};
use std::fmt;

/// The most fields or list items that are looked at; a file with more is not a scenario.
pub const MOST: usize = 256;

/// Keys and values in the order of the file, repeated keys included.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Entries(pub Vec<(String, Entry)>);

/// One value of a file.
#[derive(Clone, Debug, PartialEq)]
pub enum Entry {
    /// A number.
    Number(f64),
    /// A text.
    Text(String),
    /// A list.
    List(Vec<Entry>),
    /// Anything a scenario has no use for, by the name of its kind.
    Other(&'static str),
}

impl Entries {
    /// The first value under a key.
    pub fn get(&self, key: &str) -> Option<&Entry> {
        self.0.iter().find(|(name, _)| name == key).map(|(_, entry)| entry)
    }
}

impl Entry {
    /// A short rendering for messages; long texts are cut.
    pub fn shown(&self) -> String {
        match self {
            Entry::Number(number) => plain(*number),
            Entry::Text(text) => {
                let head: String = text.chars().take(24).collect();
                if head.len() < text.len() { format!("\"{head}…\"") } else { format!("\"{head}\"") }
            }
            Entry::List(_) => "a list".to_owned(),
            Entry::Other(kind) => (*kind).to_owned(),
        }
    }
}

/// Where a value stands. No scenario has a list within a list; not following one keeps a file of ten
/// thousand nested lists from using up the stack.
#[derive(Clone, Copy)]
enum Nesting {
    Field,
    List,
}

struct EntryVisitor(Nesting);

impl<'de> DeserializeSeed<'de> for EntryVisitor {
    type Value = Entry;

    fn deserialize<D: Deserializer<'de>>(self, deserializer: D) -> Result<Entry, D::Error> {
        deserializer.deserialize_any(self)
    }
}

impl<'de> Visitor<'de> for EntryVisitor {
    type Value = Entry;

    fn expecting(&self, formatter: &mut fmt::Formatter) -> fmt::Result {
        formatter.write_str("a number, a text or a list")
    }
    fn visit_f64<E>(self, value: f64) -> Result<Entry, E> {
        Ok(Entry::Number(value))
    }
    #[expect(clippy::cast_precision_loss, reason = "a whole number this large is out of every range anyway")]
    fn visit_i64<E>(self, value: i64) -> Result<Entry, E> {
        Ok(Entry::Number(value as f64))
    }
    #[expect(clippy::cast_precision_loss, reason = "a whole number this large is out of every range anyway")]
    fn visit_u64<E>(self, value: u64) -> Result<Entry, E> {
        Ok(Entry::Number(value as f64))
    }
    fn visit_str<E>(self, value: &str) -> Result<Entry, E> {
        Ok(Entry::Text(value.to_owned()))
    }
    fn visit_bool<E>(self, _: bool) -> Result<Entry, E> {
        Ok(Entry::Other("true or false"))
    }
    fn visit_unit<E>(self) -> Result<Entry, E> {
        Ok(Entry::Other("nothing"))
    }
    fn visit_none<E>(self) -> Result<Entry, E> {
        Ok(Entry::Other("nothing"))
    }
    fn visit_some<D: Deserializer<'de>>(self, deserializer: D) -> Result<Entry, D::Error> {
        deserializer.deserialize_any(self)
    }
    fn visit_seq<A: SeqAccess<'de>>(self, mut items: A) -> Result<Entry, A::Error> {
        if let Nesting::List = self.0 {
            while items.next_element::<IgnoredAny>()?.is_some() {}
            return Ok(Entry::Other("a list"));
        }
        let mut list = Vec::new();
        while let Some(item) = items.next_element_seed(EntryVisitor(Nesting::List))? {
            if list.len() < MOST {
                list.push(item);
            }
        }
        Ok(Entry::List(list))
    }
    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Entry, A::Error> {
        while map.next_entry::<IgnoredAny, IgnoredAny>()?.is_some() {}
        Ok(Entry::Other("an object"))
    }
}

impl<'de> Deserialize<'de> for Entry {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(EntryVisitor(Nesting::Field))
    }
}

struct EntriesVisitor;

impl<'de> Visitor<'de> for EntriesVisitor {
    type Value = Entries;

    fn expecting(&self, formatter: &mut fmt::Formatter) -> fmt::Result {
        formatter.write_str("an object of parameter keys and values")
    }
    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Entries, A::Error> {
        let mut entries = Vec::new();
        while let Some(entry) = map.next_entry()? {
            if entries.len() < MOST {
                entries.push(entry);
            }
        }
        Ok(Entries(entries))
    }
}

impl<'de> Deserialize<'de> for Entries {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_map(EntriesVisitor)
    }
}

impl Serialize for Entry {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self {
            Entry::Number(number) => serializer.serialize_f64(*number),
            Entry::Text(text) => serializer.serialize_str(text),
            Entry::List(list) => list.serialize(serializer),
            Entry::Other(_) => serializer.serialize_unit(),
        }
    }
}

impl Serialize for Entries {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(Some(self.0.len()))?;
        for (key, entry) in &self.0 {
            map.serialize_entry(key, entry)?;
        }
        map.end()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_list_within_a_list_is_not_followed() {
        let entries: Entries = serde_json::from_str("{\"wire_heights\": [1, [2, [3]], \"a\"]}").unwrap();
        let items = vec![Entry::Number(1.0), Entry::Other("a list"), Entry::Text("a".to_owned())];
        assert_eq!(entries.get("wire_heights"), Some(&Entry::List(items)));
    }
}
