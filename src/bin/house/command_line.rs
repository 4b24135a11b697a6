//! The words that follow `cargo site`, `cargo verify` and `cargo figures`.

use std::path::PathBuf;

use crate::{Outcome, verify};

/// What a command line asks for.
#[derive(Debug, PartialEq)]
pub enum Task {
    /// Print this text.
    Help(&'static str),
    /// Build the page into a folder.
    Build { out: PathBuf },
    /// Build the page, then serve it.
    Serve { out: PathBuf, port: Option<u16> },
    /// Name the steps of the checks.
    ListSteps,
    /// Run these steps, or all of them when there are none.
    Verify { steps: Vec<String> },
    /// Measure, and print the table.
    Figures,
}

const SITE_HELP: &str = "\
cargo site          builds the page into dist/ and serves it on this machine
cargo site build    only builds it

  --out DIR    build into DIR instead of dist/
  --port N     serve on port N (without it, a free port is found)
  --help       print this";

const VERIFY_HELP: &str = "\
cargo verify            runs every check, one after the other
cargo verify NAME ...   runs only the named steps

  --list    name the steps
  --help    print this";

const FIGURES_HELP: &str = "\
cargo figures    measures speed and size, and prints them as a table

  --help    print this";

/// Reads the words after the program's name.
pub fn parse(words: &[String]) -> Outcome<Task> {
    let Some((command, rest)) = words.split_first() else {
        return Err("Nothing to do. Use cargo site, cargo verify or cargo figures.".into());
    };
    match command.as_str() {
        "site" => parse_site(rest),
        "verify" => parse_verify(rest),
        "figures" => parse_figures(rest),
        other => Err(format!(
            "Unknown command `{other}`. There are site, verify and figures."
        )),
    }
}

fn parse_site(words: &[String]) -> Outcome<Task> {
    let mut out = PathBuf::from("dist");
    let mut port = None;
    let mut only_build = false;
    let mut words = words.iter();
    while let Some(word) = words.next() {
        match word.as_str() {
            "build" => only_build = true,
            "--out" => out = PathBuf::from(value_of(word, words.next(), "a folder")?),
            "--port" => port = Some(port_number(value_of(word, words.next(), "a number")?)?),
            "--help" | "-h" => return Ok(Task::Help(SITE_HELP)),
            other => return Err(unknown(other, SITE_HELP)),
        }
    }
    match (only_build, port) {
        (true, Some(_)) => Err("`--port` is for serving; `site build` only builds.".into()),
        (true, None) => Ok(Task::Build { out }),
        (false, port) => Ok(Task::Serve { out, port }),
    }
}

fn parse_verify(words: &[String]) -> Outcome<Task> {
    let mut steps = Vec::new();
    for word in words {
        match word.as_str() {
            "--list" => return Ok(Task::ListSteps),
            "--help" | "-h" => return Ok(Task::Help(VERIFY_HELP)),
            name if verify::is_step(name) => steps.push(name.to_owned()),
            other => return Err(unknown(other, VERIFY_HELP)),
        }
    }
    Ok(Task::Verify { steps })
}

fn parse_figures(words: &[String]) -> Outcome<Task> {
    match words.first().map(String::as_str) {
        None => Ok(Task::Figures),
        Some("--help" | "-h") => Ok(Task::Help(FIGURES_HELP)),
        Some(other) => Err(unknown(other, FIGURES_HELP)),
    }
}

fn value_of<'a>(option: &str, value: Option<&'a String>, kind: &str) -> Outcome<&'a str> {
    value
        .map(String::as_str)
        .filter(|value| !value.starts_with("--"))
        .ok_or_else(|| format!("`{option}` needs {kind} after it."))
}

fn port_number(text: &str) -> Outcome<u16> {
    text.parse()
        .ok()
        .filter(|port| *port > 0)
        .ok_or_else(|| format!("`--port {text}`: a port is a whole number from 1 to 65535."))
}

fn unknown(word: &str, help: &str) -> String {
    format!("Unknown word `{word}`.\n\n{help}")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn parsed(line: &str) -> Outcome<Task> {
        let words: Vec<String> = line.split_whitespace().map(str::to_owned).collect();
        parse(&words)
    }

    #[test]
    fn site_serves_unless_told_to_build() {
        let out = PathBuf::from("dist");
        assert_eq!(
            parsed("site"),
            Ok(Task::Serve {
                out: out.clone(),
                port: None
            })
        );
        assert_eq!(parsed("site build"), Ok(Task::Build { out }));
        assert_eq!(
            parsed("site --out there --port 81"),
            Ok(Task::Serve {
                out: "there".into(),
                port: Some(81)
            })
        );
    }

    #[test]
    fn a_wrong_word_is_named() {
        for (line, named) in [
            ("site bild", "`bild`"),
            ("site --port", "`--port` needs a number"),
            ("site --out --port 3", "`--out` needs a folder"),
            ("site --port 70000", "70000"),
            ("site --port 0", "--port 0"),
            ("site build --port 80", "only builds"),
            ("verify wams", "`wams`"),
            ("figures all", "`all`"),
            ("sight", "`sight`"),
            ("", "Nothing to do"),
        ] {
            let message = parsed(line).expect_err(line);
            assert!(message.contains(named), "{line}: {message}");
        }
    }

    #[test]
    fn verify_takes_names_of_steps() {
        assert_eq!(parsed("verify"), Ok(Task::Verify { steps: vec![] }));
        assert_eq!(
            parsed("verify fmt wasm"),
            Ok(Task::Verify {
                steps: vec!["fmt".into(), "wasm".into()]
            })
        );
    }
}
