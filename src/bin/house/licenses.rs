//! Under which licenses others' work is in the page, that each may be given on, and that
//! none of it has been withdrawn by who made it.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;

use serde_json::Value;

use crate::{Outcome, machine};

/// Licenses that let their work be given on in any page, as long as they are named.
const ALLOWED: &[&str] = &[
    "0BSD",
    "Apache-2.0",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "BSL-1.0",
    "CC0-1.0",
    "ISC",
    "MIT",
    "Unicode-3.0",
    "Unlicense",
    "Zlib",
];

/// What only builds or tests the page may come under these as well: it is given to nobody.
const ALLOWED_FOR_TOOLS: &[&str] = &["MPL-2.0", "NCSA", "CDLA-Permissive-2.0"];

/// A part of the page that others made.
struct Part {
    name: String,
    version: String,
    license: String,
}

/// The typeface of paper; its license lies beside it in `www/fonts/`.
fn typeface() -> Part {
    Part {
        name: "Arimo".into(),
        version: "1.33".into(),
        license: "OFL-1.1".into(),
    }
}

/// The parts of the page as items of a list.
pub fn in_html() -> Outcome<String> {
    let mut list = String::new();
    let parts = parts(&metadata(machine::WASM_TARGET)?)?;
    for part in parts.into_iter().chain([typeface()]) {
        let _ = write!(
            list,
            "<li>{} {}: {}</li>",
            part.name, part.version, part.license
        );
    }
    Ok(list)
}

/// Fails with the names of those whose license is none of the allowed ones.
pub fn check() -> Outcome<()> {
    let page = parts(&metadata(machine::WASM_TARGET)?)?;
    let mut bad: Vec<String> = refused(&page, ALLOWED);
    let tools: Vec<&str> = [ALLOWED, ALLOWED_FOR_TOOLS].concat();
    let host = machine::host_target()?;
    for target in [machine::WASM_TARGET, &host] {
        bad.extend(refused(&packages(&metadata(target)?), &tools));
    }
    bad.sort();
    bad.dedup();
    println!("{} parts of the page: {}", page.len(), summary(&page));
    if !bad.is_empty() {
        return Err(format!(
            "These licenses are not among the allowed ones: {}",
            bad.join("; ")
        ));
    }
    let gone = withdrawn(&warned()?);
    if gone.is_empty() {
        return Ok(());
    }
    Err(format!(
        "These were withdrawn by who made them: {}",
        gone.join("; ")
    ))
}

/// What cargo warns of when it packs: of each locked version that the registry no longer
/// gives to anybody new, too. Without a network it tells what it last knew.
fn warned() -> Outcome<String> {
    let pack = |more: &[&str]| {
        let mut command = machine::cargo();
        command.args(["package", "--no-verify", "--allow-dirty"]);
        command.args(more).output()
    };
    let failed = |error| format!("`cargo package` did not start: {error}");
    let mut output = pack(&[]).map_err(failed)?;
    if !output.status.success() {
        println!("The registry does not answer: taken as it was last seen");
        output = pack(&["--offline"]).map_err(failed)?;
    }
    let told = String::from_utf8_lossy(&output.stderr).into_owned();
    if output.status.success() {
        Ok(told)
    } else {
        Err(told)
    }
}

/// The packages that cargo calls withdrawn ("yanked").
fn withdrawn(told: &str) -> Vec<String> {
    let names = told.lines().filter_map(|line| {
        let (package, rest) = line.strip_prefix("warning: package `")?.split_once('`')?;
        rest.contains("is yanked").then(|| package.to_owned())
    });
    names.collect()
}

fn refused(parts: &[Part], allowed: &[&str]) -> Vec<String> {
    let bad = parts
        .iter()
        .filter(|part| !is_allowed(&part.license, allowed));
    bad.map(|part| format!("{} {} ({})", part.name, part.version, part.license))
        .collect()
}

fn summary(parts: &[Part]) -> String {
    let mut counts = BTreeMap::<&str, u32>::new();
    for part in parts {
        *counts.entry(&part.license).or_default() += 1;
    }
    let counts = counts
        .iter()
        .map(|(license, count)| format!("{count} {license}"));
    counts.collect::<Vec<_>>().join(", ")
}

/// All that cargo knows of what a target needs. It asks the network only for what the build
/// has not fetched already.
fn metadata(target: &str) -> Outcome<Value> {
    let told = machine::printed(machine::cargo().args([
        "metadata",
        "--locked",
        "--quiet",
        "--format-version",
        "1",
        "--all-features",
        "--filter-platform",
        target,
    ]))?;
    serde_json::from_str(&told).map_err(|error| format!("cargo metadata: {error}"))
}

fn list<'a>(value: &'a Value, name: &str) -> &'a [Value] {
    value[name].as_array().map_or(&[], Vec::as_slice)
}

fn text(value: &Value, name: &str) -> String {
    value[name].as_str().unwrap_or_default().to_owned()
}

/// Every package but our own.
fn packages(metadata: &Value) -> Vec<Part> {
    let others = list(metadata, "packages")
        .iter()
        .filter(|it| !it["source"].is_null());
    others.map(part).collect()
}

/// What names no license but holds its text: the version whose text was read, and what it is.
const READ: &[(&str, &str, &str)] = &[("slsqp", "1.0.2", "MIT")];

fn part(package: &Value) -> Part {
    let (name, version) = (text(package, "name"), text(package, "version"));
    let read = READ
        .iter()
        .find(|read| (read.0, read.1) == (&name, &version));
    // Old packages write `/` for `OR`.
    let told = || text(package, "license").replace('/', " OR ");
    Part {
        license: read.map_or_else(told, |read| read.2.to_owned()),
        name,
        version,
    }
}

/// What is compiled into the page: what the library needs, and what that needs, without what
/// only runs while it is compiled.
fn parts(metadata: &Value) -> Outcome<Vec<Part>> {
    let package = |id: &str| list(metadata, "packages").iter().find(|it| it["id"] == id);
    let root = text(&metadata["resolve"], "root");
    let (mut seen, mut open) = (BTreeSet::from([root.clone()]), vec![root]);
    let mut parts = Vec::new();
    while let Some(id) = open.pop() {
        let own = package(&id).ok_or_else(|| format!("cargo metadata names no {id}"))?;
        let is_macro = |it: &Value| {
            it["kind"]
                .as_array()
                .is_some_and(|kinds| kinds.contains(&"proc-macro".into()))
        };
        if list(own, "targets").iter().any(is_macro) {
            continue;
        }
        if !own["source"].is_null() {
            parts.push(part(own));
        }
        let node = list(&metadata["resolve"], "nodes")
            .iter()
            .find(|it| it["id"] == *id);
        for needed in node.map_or(&[][..], |node| list(node, "deps")) {
            // Neither for tests nor for building.
            let is_needed = list(needed, "dep_kinds")
                .iter()
                .any(|it| it["kind"].is_null());
            let id = text(needed, "pkg");
            if is_needed && seen.insert(id.clone()) {
                open.push(id);
            }
        }
    }
    parts.sort_by(|a, b| (&a.name, &a.version).cmp(&(&b.name, &b.version)));
    Ok(parts)
}

/// Whether an SPDX expression can be kept to with allowed licenses alone: all of its
/// `AND`s, and one of each of its `OR`s.
fn is_allowed(expression: &str, allowed: &[&str]) -> bool {
    let spaced = expression.replace('(', " ( ").replace(')', " ) ");
    let mut words = spaced.split_whitespace().peekable();
    any_of(&mut words, allowed) && words.next().is_none()
}

type Words<'a> = std::iter::Peekable<std::str::SplitWhitespace<'a>>;

fn any_of(words: &mut Words<'_>, allowed: &[&str]) -> bool {
    let mut is_allowed = all_of(words, allowed);
    while words.next_if_eq(&"OR").is_some() {
        is_allowed |= all_of(words, allowed);
    }
    is_allowed
}

fn all_of(words: &mut Words<'_>, allowed: &[&str]) -> bool {
    let mut is_allowed = one(words, allowed);
    while words.next_if_eq(&"AND").is_some() {
        is_allowed &= one(words, allowed);
    }
    is_allowed
}

fn one(words: &mut Words<'_>, allowed: &[&str]) -> bool {
    match words.next() {
        Some("(") => any_of(words, allowed) & words.next_if_eq(&")").is_some(),
        Some(license) => {
            // An exception only allows more.
            if words.next_if_eq(&"WITH").is_some() {
                words.next();
            }
            allowed.contains(&license)
        }
        None => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn an_expression_is_allowed_where_it_can_be_kept() {
        for (expression, expected) in [
            ("MIT", true),
            ("GPL-3.0-only", false),
            ("MIT OR GPL-3.0-only", true),
            ("MIT AND GPL-3.0-only", false),
            ("(MIT OR Apache-2.0) AND Unicode-3.0", true),
            ("(MIT OR Apache-2.0) AND GPL-2.0-only", false),
            ("GPL-2.0-only OR (MIT AND Zlib)", true),
            ("Apache-2.0 WITH LLVM-exception OR GPL-2.0-only", true),
            ("(MIT", false),
            ("MIT GPL-3.0-only", false),
            ("", false),
        ] {
            assert_eq!(is_allowed(expression, ALLOWED), expected, "{expression}");
        }
    }

    /// As cargo tells it: a library and what it needs, what that needs, and a tool.
    fn told() -> Value {
        let package = |name: &str, license: &str, kind: &str| {
            json!({
                "name": name, "version": "1.0.0", "id": name, "license": license,
                "source": if name == "own" { Value::Null } else { "registry".into() },
                "targets": [{ "kind": [kind] }],
            })
        };
        let needs =
            |name: &str, kind: Value| json!({ "pkg": name, "dep_kinds": [{ "kind": kind }] });
        json!({
            "packages": [
                package("own", "MIT", "lib"),
                package("first", "MIT", "lib"),
                package("second", "GPL-3.0-only", "lib"),
                package("macros", "MPL-2.0", "proc-macro"),
                package("tool", "MPL-2.0", "lib"),
                package("tester", "GPL-2.0-only", "lib"),
            ],
            "resolve": {
                "root": "own",
                "nodes": [
                    { "id": "own", "deps": [
                        needs("first", Value::Null), needs("macros", Value::Null),
                        needs("tool", "build".into()), needs("tester", "dev".into()),
                    ] },
                    { "id": "first", "deps": [needs("second", Value::Null)] },
                ],
            },
        })
    }

    #[test]
    fn a_license_that_forbids_is_found_wherever_it_is() {
        let page = parts(&told()).unwrap();
        let names: Vec<&str> = page.iter().map(|part| part.name.as_str()).collect();
        assert_eq!(names, ["first", "second"], "what is compiled into the page");
        assert_eq!(refused(&page, ALLOWED), ["second 1.0.0 (GPL-3.0-only)"]);
        let tools = [ALLOWED, ALLOWED_FOR_TOOLS].concat();
        assert_eq!(
            refused(&packages(&told()), &tools),
            ["second 1.0.0 (GPL-3.0-only)", "tester 1.0.0 (GPL-2.0-only)"]
        );
    }

    #[test]
    fn what_was_withdrawn_is_named() {
        let told = "   Packaging y v0.1.0\n\
             warning: package `crossbeam-channel v0.5.12` in Cargo.lock is yanked in registry \
             `crates-io`, consider updating to a version that is not yanked\n\
             warning: package `other v1.0.0` is something else\n";
        assert_eq!(withdrawn(told), ["crossbeam-channel v0.5.12"]);
    }
}
