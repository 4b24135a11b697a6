//! Fills the `{{key}}` places of the page's files.

use std::collections::BTreeMap;

use serde_json::{Map, Value};

use crate::Outcome;

/// Replaces every `{{key}}` of `text` by what `fill` gives for the key.
pub fn fill(
    file: &str,
    text: &str,
    mut fill: impl FnMut(&str) -> Option<String>,
) -> Outcome<String> {
    let mut filled = String::with_capacity(text.len());
    let mut rest = text;
    while let Some((before, after)) = rest.split_once("{{") {
        let (key, after) = after
            .split_once("}}")
            .ok_or_else(|| format!("{file}: a `{{{{` is not closed by `}}}}`"))?;
        let key = key.trim();
        let value = fill(key)
            .ok_or_else(|| format!("{file}: nothing is known under the key `{{{{{key}}}}}`"))?;
        filled.push_str(before);
        filled.push_str(&value);
        rest = after;
    }
    filled.push_str(rest);
    Ok(filled)
}

/// The page's words, ready for each kind of file.
pub struct Words {
    by_key: BTreeMap<&'static str, &'static str>,
    all: Map<String, Value>,
}

impl Words {
    /// Takes the library's list; a key given twice is an error.
    pub fn new(list: impl IntoIterator<Item = (&'static str, &'static str)>) -> Outcome<Words> {
        let mut words = Words {
            by_key: BTreeMap::new(),
            all: Map::new(),
        };
        for (key, text) in list {
            if words.by_key.insert(key, text).is_some() {
                return Err(format!(
                    "src/show/words/list: the key `{key}` is given twice"
                ));
            }
            words.all.insert(key.to_owned(), text.into());
        }
        Ok(words)
    }

    /// The text of a key, safe in HTML text and in quoted attributes.
    pub fn in_html(&self, key: &str) -> Option<String> {
        self.by_key.get(key).map(|text| escape_html(text))
    }

    /// What stands in the place of `ways`: a tile for each way into the page, named by its
    /// word's key, `kind.name`. Its picture is drawn later.
    pub fn way_tiles(&self, place: &str) -> Option<String> {
        let keys = place.strip_prefix("ways ")?.split_whitespace();
        keys.map(|key| {
            let (kind, name) = key.split_once('.')?;
            let text = self.in_html(key)?;
            Some(format!(
                "<button type=\"button\" data-kind=\"{kind}\" data-way=\"{name}\"><span class=\"way-picture\" \
                 aria-hidden=\"true\"></span>{text}</button>"
            ))
        })
        .collect()
    }

    /// The text of a key, safe inside the quotes of a JSON string.
    pub fn in_json(&self, key: &str) -> Option<String> {
        let quoted = Value::from(*self.by_key.get(key)?).to_string();
        Some(quoted[1..quoted.len() - 1].to_owned())
    }

    /// Those of these keys that no text has in double braces and no script asks for.
    pub fn orphans<'a>(
        keys: impl IntoIterator<Item = &'a str>,
        texts: &[&str],
        scripts: &[&str],
    ) -> Vec<&'a str> {
        let is_told = |key: &str| {
            let in_braces = |text: &&str| {
                let places = text.split("{{").skip(1);
                places
                    .filter_map(|place| place.split_once("}}"))
                    .any(|(place, _)| place.split_whitespace().any(|told| told == key))
            };
            texts.iter().any(in_braces) || is_asked(key, scripts)
        };
        keys.into_iter().filter(|key| !is_told(key)).collect()
    }

    /// Those that scripts ask for, as one JSON object that may stand inside a `<script>`:
    /// most words are only in the markup, and would be loaded twice.
    pub fn as_script_json<'a>(&self, scripts: impl IntoIterator<Item = &'a str>) -> String {
        let scripts: Vec<&str> = scripts.into_iter().collect();
        let asked = self.all.iter().filter(|(key, _)| is_asked(key, &scripts));
        let asked: Map<String, Value> = asked
            .map(|(key, text)| (key.clone(), text.clone()))
            .collect();
        Value::Object(asked).to_string().replace('<', "\\u003c")
    }
}

/// Whether a script names the key in quotes, or builds keys that begin as it does:
/// `` `choice.${word}` ``.
fn is_asked(key: &str, scripts: &[&str]) -> bool {
    let quoted = format!("'{key}'");
    scripts.iter().any(|script| {
        let built = script.split('`').any(|part| {
            let before = part.split_once("${").map(|(before, _)| before);
            before.is_some_and(|before| before.ends_with('.') && key.starts_with(before))
        });
        built || script.contains(&quoted)
    })
}

fn escape_html(text: &str) -> String {
    text.replace('&', "&amp;")
        .replace('<', "&lt;")
        .replace('>', "&gt;")
        .replace('"', "&quot;")
        .replace('\'', "&#39;")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_are_filled_and_unknown_ones_named() {
        let known = |key: &str| (key == "a").then(|| "1".to_owned());
        assert_eq!(fill("f", "x{{a}}y{{ a }}", known), Ok("x1y1".into()));
        assert!(fill("f", "{{b}}", known).is_err_and(|message| message.contains("{{b}}")));
        assert!(fill("f", "{{a", known).is_err_and(|message| message.contains("not closed")));
    }

    #[test]
    fn words_are_escaped_for_where_they_stand() {
        let words = Words::new([("k", "</b> \"&'")]).expect("one key");
        assert_eq!(
            words.in_html("k").as_deref(),
            Some("&lt;/b&gt; &quot;&amp;&#39;")
        );
        assert_eq!(words.in_json("k").as_deref(), Some("</b> \\\"&'"));
        let json = words.as_script_json(["word('k')"]);
        assert_eq!(json, "{\"k\":\"\\u003c/b> \\\"&'\"}");
        assert!(words.in_html("gone").is_none());
    }

    #[test]
    fn scripts_get_the_words_that_they_ask_for() {
        let words = Words::new([("a.b", "1"), ("a.c", "2"), ("d", "3")]).expect("keys");
        assert_eq!(words.as_script_json(["word('d')"]), "{\"d\":\"3\"}");
        let built = words.as_script_json(["word(`a.${it}`)"]);
        assert_eq!(built, "{\"a.b\":\"1\",\"a.c\":\"2\"}");
        assert_eq!(words.as_script_json(["`${x} a.b`"]), "{}");
    }

    #[test]
    fn a_word_that_nobody_names_is_found() {
        assert_eq!(
            Words::orphans(
                ["a", "b", "c", "d.e"],
                &["<p>{{a}}{{ways d.e}}"],
                &["word('b')"]
            ),
            ["c"]
        );
    }

    #[test]
    fn a_way_is_a_tile_with_its_word() {
        let words = Words::new([("start.bowl", "A bowl & more")]).expect("one key");
        let tile = words.way_tiles("ways start.bowl").expect("a tile");
        assert!(tile.starts_with("<button type=\"button\" data-kind=\"start\" data-way=\"bowl\">"));
        assert!(tile.ends_with("</span>A bowl &amp; more</button>"));
        assert!(words.way_tiles("ways start.gone").is_none());
    }

    #[test]
    fn a_key_given_twice_is_named() {
        let message = Words::new([("k", "1"), ("k", "2")]).map(|_| ());
        assert!(message.is_err_and(|message| message.contains("`k`")));
    }
}
