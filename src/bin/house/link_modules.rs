//! Links the page's ES modules into one classic script.
//!
//! A page opened from disk may not load modules: browsers treat every `file:`
//! address as an origin of its own. So the single file carries all of them in one
//! inline script, each in a function of its own that returns what it exports.
//!
//! Only the forms that the page's own modules and the wasm glue use are known:
//! `import { a, b as c } from './x.js';`, `import d, { a } from './x.js';`,
//! `import * as x from './x.js';`, `export function/class/const …` and
//! `export { a, b as c };`, each starting at the beginning of a line. Anything else
//! is an error rather than a guess.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use crate::Outcome;

/// The sources of modules, by their path below the page's folder.
pub type Sources = BTreeMap<String, String>;

/// One `a as b` of an import or export list.
#[derive(Debug, PartialEq)]
struct Name {
    theirs: String,
    ours: String,
}

/// What one import takes from another module.
#[derive(Debug, PartialEq)]
struct Import {
    path: String,
    names: Vec<Name>,
    whole: Option<String>,
}

/// A module taken apart.
#[derive(Debug, PartialEq)]
struct Module {
    imports: Vec<Import>,
    exports: Vec<Name>,
    body: String,
}

/// All modules that `entry` needs, itself last, each after those it imports.
pub fn order(entry: &str, sources: &Sources) -> Outcome<Vec<String>> {
    let mut walk = Walk {
        sources,
        done: Vec::new(),
        open: Vec::new(),
    };
    walk.visit(entry)?;
    Ok(walk.done)
}

/// One classic script that does what the module `entry` does.
pub fn link(entry: &str, sources: &Sources) -> Outcome<String> {
    let order = order(entry, sources)?;
    let mut script = String::from("(() => {\n'use strict';\n");
    for (place, path) in order.iter().enumerate() {
        let module = take_apart(path, &sources[path])?;
        script.push_str(&wrap(place, path, &module, &order)?);
    }
    script.push_str("})();\n");
    Ok(script)
}

struct Walk<'a> {
    sources: &'a Sources,
    done: Vec<String>,
    open: Vec<String>,
}

impl Walk<'_> {
    fn visit(&mut self, path: &str) -> Outcome<()> {
        if self.done.iter().any(|done| done == path) {
            return Ok(());
        }
        if let Some(start) = self.open.iter().position(|open| open == path) {
            let circle = self.open[start..].join(" → ");
            return Err(format!(
                "{path}: modules import each other in a circle: {circle} → {path}"
            ));
        }
        let source = self
            .sources
            .get(path)
            .ok_or_else(|| match self.open.last() {
                Some(importer) => format!("{importer}: imports {path}, which is not there"),
                None => format!("{path}: the page's first module is not there"),
            })?;
        self.open.push(path.to_owned());
        for import in take_apart(path, source)?.imports {
            self.visit(&import.path)?;
        }
        self.open.pop();
        self.done.push(path.to_owned());
        Ok(())
    }
}

fn wrap(place: usize, path: &str, module: &Module, order: &[String]) -> Outcome<String> {
    let mut text = format!("// {path}\nconst module{place} = (() => {{\n");
    for import in &module.imports {
        let from = order
            .iter()
            .position(|known| *known == import.path)
            .ok_or_else(|| format!("{path}: {} has no place in the order", import.path))?;
        if let Some(whole) = &import.whole {
            let _ = writeln!(text, "const {whole} = module{from};");
        }
        if !import.names.is_empty() {
            let names = pairs(&import.names, |name| (&name.theirs, &name.ours));
            let _ = writeln!(text, "const {{ {names} }} = module{from};");
        }
    }
    text.push_str(&module.body);
    let exports = pairs(&module.exports, |name| (&name.theirs, &name.ours));
    let _ = writeln!(text, "\nreturn {{ {exports} }};\n}})();");
    Ok(text)
}

fn pairs<'a>(names: &'a [Name], sides: impl Fn(&'a Name) -> (&'a String, &'a String)) -> String {
    let list: Vec<String> = names
        .iter()
        .map(|name| match sides(name) {
            (key, value) if key == value => key.clone(),
            (key, value) => format!("{key}: {value}"),
        })
        .collect();
    list.join(", ")
}

fn take_apart(path: &str, source: &str) -> Outcome<Module> {
    refuse_what_a_classic_script_cannot_do(path, source)?;
    let mut module = Module {
        imports: Vec::new(),
        exports: Vec::new(),
        body: String::new(),
    };
    let mut rest = source;
    while !rest.is_empty() {
        if starts_with_word(rest, "import") {
            let (statement, after) = until_semicolon(path, rest)?;
            module.imports.push(read_import(path, statement)?);
            rest = after;
        } else if starts_with_word(rest, "export") {
            rest = read_export(path, rest, &mut module)?;
        } else {
            let (line, after) = split_line(rest);
            module.body.push_str(line);
            rest = after;
        }
    }
    Ok(module)
}

fn is_comment(line: &str) -> bool {
    let line = line.trim_start();
    line.starts_with('*') || line.starts_with("/*") || line.starts_with("//")
}

fn refuse_what_a_classic_script_cannot_do(path: &str, source: &str) -> Outcome<()> {
    for form in ["import.meta", "import("] {
        // Types in comments may name modules; only code counts.
        let mut code = source.lines().filter(|line| !is_comment(line));
        if code.any(|line| line.contains(form)) {
            return Err(format!(
                "{path}: `{form}` cannot be put into the single file"
            ));
        }
    }
    Ok(())
}

fn read_import(path: &str, statement: &str) -> Outcome<Import> {
    let unknown = || {
        format!(
            "{path}: this form of import is not known here: `{}`",
            statement.trim()
        )
    };
    let text = statement.trim_start_matches("import").trim();
    let (what, from) = match text.rsplit_once(" from ") {
        Some((what, from)) => (what.trim(), from),
        None => ("", text),
    };
    let from = unquoted(from.trim()).ok_or_else(unknown)?;
    let mut import = Import {
        path: resolve(path, from)?,
        names: Vec::new(),
        whole: None,
    };
    let (plain, listed) = match what.split_once('{') {
        Some((plain, listed)) => (
            plain.trim().trim_end_matches(',').trim(),
            Some(listed.trim().strip_suffix('}').ok_or_else(unknown)?),
        ),
        None => (what, None),
    };
    if let Some(whole) = plain.strip_prefix("* as ") {
        import.whole = Some(identifier(whole).ok_or_else(unknown)?);
    } else if !plain.is_empty() {
        import.names.push(Name {
            theirs: "default".into(),
            ours: identifier(plain).ok_or_else(unknown)?,
        });
    }
    for (theirs, ours) in list_of_names(listed.unwrap_or("")).ok_or_else(unknown)? {
        import.names.push(Name { theirs, ours });
    }
    Ok(import)
}

/// Notes what an export gives, and hands back the text to go on from.
fn read_export<'a>(path: &str, text: &'a str, module: &mut Module) -> Outcome<&'a str> {
    let line = split_line(text).0.trim_end();
    let unknown = || format!("{path}: this form of export is not known here: `{line}`");
    let declaration = text.trim_start_matches("export").trim_start();
    if declaration.starts_with('{') {
        let (statement, after) = until_semicolon(path, declaration)?;
        let listed = statement
            .strip_prefix('{')
            .and_then(|inner| inner.trim_end().strip_suffix('}'))
            .ok_or_else(unknown)?;
        for (ours, theirs) in list_of_names(listed).ok_or_else(unknown)? {
            module.exports.push(Name { theirs, ours });
        }
        return Ok(after);
    }
    let name = declared_name(declaration).ok_or_else(unknown)?;
    module.exports.push(Name {
        theirs: name.clone(),
        ours: name,
    });
    let (line, after) = split_line(declaration);
    module.body.push_str(line);
    Ok(after)
}

/// The name that a declaration makes. `let` is left out on purpose: what a module
/// returns is a copy of its values, so a later change would not be seen outside.
fn declared_name(declaration: &str) -> Option<String> {
    let kinds = ["async function", "function*", "function", "class", "const"];
    let after = kinds
        .iter()
        .find_map(|kind| declaration.strip_prefix(kind))
        .filter(|after| after.starts_with(char::is_whitespace))?
        .trim_start();
    let end = after
        .find(|letter: char| !is_name_letter(letter))
        .unwrap_or(after.len());
    identifier(&after[..end])
}

fn list_of_names(listed: &str) -> Option<Vec<(String, String)>> {
    listed
        .split(',')
        .map(str::trim)
        .filter(|entry| !entry.is_empty())
        .map(|entry| match entry.split_once(" as ") {
            Some((first, second)) => Some((identifier(first)?, identifier(second)?)),
            None => identifier(entry).map(|name| (name.clone(), name)),
        })
        .collect()
}

fn identifier(text: &str) -> Option<String> {
    let text = text.trim();
    let valid = !text.is_empty()
        && text.chars().all(is_name_letter)
        && !text.starts_with(|first: char| first.is_ascii_digit());
    valid.then(|| text.to_owned())
}

fn is_name_letter(letter: char) -> bool {
    letter.is_alphanumeric() || letter == '_' || letter == '$'
}

fn unquoted(text: &str) -> Option<&str> {
    ['\'', '"'].iter().find_map(|quote| {
        text.strip_prefix(*quote)
            .and_then(|inner| inner.strip_suffix(*quote))
    })
}

fn starts_with_word(text: &str, word: &str) -> bool {
    text.strip_prefix(word)
        .is_some_and(|after| after.starts_with([' ', '\t', '\n', '\r', '{', '\'', '"', '*']))
}

fn until_semicolon<'a>(path: &str, text: &'a str) -> Outcome<(&'a str, &'a str)> {
    text.split_once(';').ok_or_else(|| {
        let line = split_line(text).0.trim_end();
        format!("{path}: no semicolon ends `{line}`")
    })
}

fn split_line(text: &str) -> (&str, &str) {
    let end = text.find('\n').map_or(text.len(), |newline| newline + 1);
    text.split_at(end)
}

/// The path below the page's folder that `to`, written in `from`, means.
fn resolve(from: &str, to: &str) -> Outcome<String> {
    if !to.starts_with("./") && !to.starts_with("../") {
        return Err(format!(
            "{from}: imports `{to}`; only paths that start with ./ or ../ are known here"
        ));
    }
    let mut parts: Vec<&str> = from.split('/').collect();
    parts.pop();
    for part in to.split('/') {
        match part {
            "." => {}
            ".." => {
                parts
                    .pop()
                    .ok_or_else(|| format!("{from}: `{to}` leaves the page's folder"))?;
            }
            name => parts.push(name),
        }
    }
    Ok(parts.join("/"))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sources(modules: &[(&str, &str)]) -> Sources {
        modules
            .iter()
            .map(|(path, source)| ((*path).to_owned(), (*source).to_owned()))
            .collect()
    }

    #[test]
    fn modules_come_after_what_they_import() {
        let modules = sources(&[
            (
                "main.js",
                "import { a } from './a.js';\nimport { b } from './deep/b.js';\n",
            ),
            ("a.js", "import { b } from './deep/b.js';\n"),
            (
                "deep/b.js",
                "import { c } from '../c.js';\nexport const b = c;\n",
            ),
            ("c.js", "export const c = 1;\n"),
            ("unused.js", "export const nothing = 0;\n"),
        ]);
        let order = order("main.js", &modules).expect("these can be linked");
        assert_eq!(order, ["c.js", "deep/b.js", "a.js", "main.js"]);
    }

    #[test]
    fn imports_and_exports_become_plain_objects() {
        let modules = sources(&[
            (
                "main.js",
                "import start, {\n  a,\n  b as c,\n} from './glue.js';\nimport * as all from './glue.js';\nstart(a, c, all);\n",
            ),
            (
                "glue.js",
                "export function a () {}\nexport const b = 2;\nfunction begin() {}\nexport { begin as default };\n",
            ),
        ]);
        assert_eq!(
            link("main.js", &modules).expect("these can be linked"),
            "(() => {\n'use strict';\n\
             // glue.js\nconst module0 = (() => {\n\
             function a () {}\nconst b = 2;\nfunction begin() {}\n\n\
             \nreturn { a, b, default: begin };\n})();\n\
             // main.js\nconst module1 = (() => {\n\
             const { default: start, a, b: c } = module0;\nconst all = module0;\n\
             \n\nstart(a, c, all);\n\
             \nreturn {  };\n})();\n})();\n"
        );
    }

    #[test]
    fn words_inside_code_are_left_alone() {
        let source = "function importer() {\n  // import { x } from './y.js';\n  return 'export const';\n}\nimporter();\nexported();\n";
        let module = take_apart("main.js", source).expect("this is a module");
        assert_eq!(module.body, source);
        assert_eq!((module.imports.len(), module.exports.len()), (0, 0));
    }

    #[test]
    fn what_cannot_be_linked_is_named() {
        for (source, named) in [
            ("import { a } from './main.js';\n", "in a circle"),
            ("import { a } from './gone.js';\n", "gone.js"),
            ("import { a } from 'package';\n", "`package`"),
            ("import { a } from '../up.js';\n", "leaves"),
            ("import { a-b } from './a.js';\n", "form of import"),
            ("import { a from './a.js';\n", "form of import"),
            ("export default 3;\n", "`export default 3;`"),
            ("export let a = 3;\n", "`export let a = 3;`"),
            ("export const { a } = b;\n", "form of export"),
            ("export * from './a.js';\n", "form of export"),
            ("import { a } from './a.js'\n", "no semicolon"),
            ("const a = import.meta.url;\n", "`import.meta`"),
            ("const a = await import('./a.js');\n", "`import(`"),
        ] {
            let modules = sources(&[("main.js", source), ("a.js", "export const a = 1;\n")]);
            let message = link("main.js", &modules).expect_err(source);
            assert!(message.contains(named), "{source}{message}");
            assert!(message.contains("main.js"), "{source}{message}");
        }
    }
}
