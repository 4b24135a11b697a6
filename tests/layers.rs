//! The house stands in floors: a file uses only what stands on the floors below its own,
//! or beside it, and no two files use each other, not even by a way round.
//!
//! The sources are read as tokens (crate `proc-macro2`), so that comments, words in quotes
//! and tests do not count, and paths inside of macros do.

use proc_macro2::{Delimiter, TokenStream, TokenTree};
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

/// From the ground up.
const FLOORS: [&str; 9] = [
    "units", "solve", "trade", "draw", "design", "plan", "edit", "show", "web",
];

/// A module's path within the crate: `["plan", "stack"]`.
type Module = Vec<String>;

/// What each file's module uses of the others.
#[derive(Default)]
struct House {
    modules: BTreeSet<Module>,
    uses: BTreeMap<Module, BTreeSet<Module>>,
}

#[test]
fn no_file_uses_what_stands_above_its_floor() {
    let house = House::read();
    let floor = |module: &Module| {
        let place = FLOORS.iter().position(|floor| *floor == module[0]);
        place.unwrap_or_else(|| panic!("{} stands on no floor", module[0]))
    };
    let up: Vec<String> = house
        .edges()
        .filter(|(from, to)| floor(from) < floor(to))
        .map(|(from, to)| format!("{} uses {}", from.join("::"), to.join("::")))
        .collect();
    assert!(up.is_empty(), "{}", up.join("\n"));
    // A check that read nothing would pass.
    assert!(house.edges().count() > 200);
    for floor in FLOORS {
        assert!(
            house.modules.iter().any(|module| module[0] == floor),
            "{floor}"
        );
    }
}

/// A folder that is on no floor would be read by none of these checks.
#[test]
fn every_folder_is_a_floor() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let (mut folders, mut files) = (BTreeSet::new(), BTreeSet::new());
    for entry in fs::read_dir(&root).expect("the sources") {
        let entry = entry.expect("an entry");
        let name = entry.file_name().into_string().expect("a name");
        if entry.path().is_file() {
            files.insert(name);
        } else if has_rust(&entry.path()) {
            folders.insert(name);
        }
    }
    let floors = FLOORS.iter().chain(&["bin"]).map(|&name| name.to_owned());
    assert_eq!(folders, floors.collect());
    assert_eq!(files, BTreeSet::from(["lib.rs".to_owned()]));
}

/// Whether Rust's files stand in a folder, at any depth.
fn has_rust(folder: &Path) -> bool {
    fs::read_dir(folder).expect("a folder").any(|entry| {
        let path = entry.expect("an entry").path();
        path.extension().is_some_and(|extension| extension == "rs")
            || path.is_dir() && has_rust(&path)
    })
}

#[test]
fn no_two_files_use_each_other() {
    let house = House::read();
    let mut circles = BTreeSet::new();
    for from in &house.modules {
        let reached = house.reached_from(from);
        if reached.contains(from) {
            let round: BTreeSet<String> = reached
                .iter()
                .filter(|other| house.reached_from(other).contains(from))
                .map(|module| module.join("::"))
                .collect();
            circles.insert(round);
        }
    }
    assert!(circles.is_empty(), "{circles:#?}");
}

#[test]
fn a_planted_import_is_seen() {
    let source = "use crate::{units::length::show, plan as all};\n\
                  /// Not [`crate::web`].\n\
                  fn f() { g!(crate::show::words::page(\"crate::edit\")); }\n\
                  #[cfg(test)]\nmod tests { use crate::web::door; }";
    let mut paths = Vec::new();
    paths_in(source.parse().unwrap(), &mut paths);
    let seen: BTreeSet<String> = paths.iter().map(|path| path.join("::")).collect();
    for planted in [
        "crate::units::length::show",
        "crate::plan",
        "crate::show::words::page",
    ] {
        assert!(seen.contains(planted), "{planted} is not among {seen:?}");
    }
    let unseen = ["web", "edit"];
    assert!(
        !seen
            .iter()
            .any(|path| unseen.iter().any(|name| path.contains(name)))
    );
}

impl House {
    fn read() -> House {
        let mut sources = BTreeMap::new();
        let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
        for floor in FLOORS {
            read_folder(&root.join(floor), &[floor.to_owned()], &mut sources);
        }
        let modules: BTreeSet<Module> = sources.keys().cloned().collect();
        let mut house = House {
            modules,
            uses: BTreeMap::new(),
        };
        for (module, source) in &sources {
            let mut paths = Vec::new();
            paths_in(source.parse().expect("Rust"), &mut paths);
            let used = paths
                .iter()
                .filter_map(|path| house.module_of(module, path));
            let used = used.filter(|other| other != module).collect();
            house.uses.insert(module.clone(), used);
        }
        house
    }

    /// The module in which the thing at this path stands.
    fn module_of(&self, from: &Module, path: &[String]) -> Option<Module> {
        let mut whole: Module = match path.first()?.as_str() {
            "crate" => path[1..].to_vec(),
            "super" => {
                let ups = path.iter().take_while(|part| *part == "super").count();
                let mut above = from[..from.len().checked_sub(ups)?].to_vec();
                above.extend(path[ups..].iter().cloned());
                above
            }
            _ => {
                let mut below = from.clone();
                below.extend(path.iter().cloned());
                let is_child = self.modules.contains(&below[..=from.len()]);
                is_child.then_some(below)?
            }
        };
        while !whole.is_empty() && !self.modules.contains(&whole) {
            whole.pop();
        }
        (!whole.is_empty()).then_some(whole)
    }

    fn edges(&self) -> impl Iterator<Item = (&Module, &Module)> {
        let all = self.uses.iter();
        all.flat_map(|(from, used)| used.iter().map(move |to| (from, to)))
    }

    fn reached_from(&self, from: &Module) -> BTreeSet<Module> {
        let mut reached = BTreeSet::new();
        let mut next: Vec<&Module> = self.uses[from].iter().collect();
        while let Some(module) = next.pop() {
            if reached.insert(module.clone()) {
                next.extend(&self.uses[module]);
            }
        }
        reached
    }
}

fn read_folder(folder: &Path, module: &[String], sources: &mut BTreeMap<Module, String>) {
    for entry in fs::read_dir(folder).expect("a floor's folder") {
        let path = entry.expect("an entry").path();
        let name = path
            .file_stem()
            .and_then(|stem| stem.to_str())
            .unwrap()
            .to_owned();
        let mut own = module.to_vec();
        if path.is_dir() {
            own.push(name);
            read_folder(&path, &own, sources);
        } else if path.extension().is_some_and(|extension| extension == "rs") {
            if name != "mod" {
                own.push(name);
            }
            sources.insert(own, fs::read_to_string(&path).expect("a source"));
        }
    }
}

/// Every path of two or more names in the source, groups of imports taken apart.
fn paths_in(source: TokenStream, paths: &mut Vec<Vec<String>>) {
    let tokens: Vec<TokenTree> = source.into_iter().collect();
    let mut at = 0;
    while let Some(token) = tokens.get(at) {
        match token {
            TokenTree::Group(group) if !is_of_tests(&tokens, at) => {
                paths_in(group.stream(), paths);
                at += 1;
            }
            TokenTree::Ident(_) => at = path_at(&tokens, at, &[], paths).max(at + 1),
            _ => at += 1,
        }
    }
}

/// Whether a group is the body of `mod tests` or one of an attribute.
fn is_of_tests(tokens: &[TokenTree], at: usize) -> bool {
    let is = |back: usize, text: &str| {
        at.checked_sub(back)
            .and_then(|place| tokens.get(place))
            .is_some_and(|it| it.to_string() == text)
    };
    is(1, "tests") && is(2, "mod")
}

/// Reads one path; the place behind it.
fn path_at(
    tokens: &[TokenTree],
    mut at: usize,
    before: &[String],
    paths: &mut Vec<Vec<String>>,
) -> usize {
    let mut path = before.to_vec();
    while let Some(TokenTree::Ident(name)) = tokens.get(at) {
        path.push(name.to_string());
        at += 1;
        let is_colon = |place: usize| matches!(tokens.get(place), Some(TokenTree::Punct(mark)) if mark.as_char() == ':');
        if !(is_colon(at) && is_colon(at + 1)) {
            break;
        }
        at += 2;
        if let Some(TokenTree::Group(group)) = tokens.get(at)
            && group.delimiter() == Delimiter::Brace
        {
            let inner: Vec<TokenTree> = group.stream().into_iter().collect();
            let mut item = 0;
            while item < inner.len() {
                item = path_at(&inner, item, &path, paths).max(item + 1);
                // On to the next item, past a new name for this one.
                while inner
                    .get(item - 1)
                    .is_some_and(|token| token.to_string() != ",")
                {
                    item += 1;
                }
            }
            return at + 1;
        }
    }
    if path.len() > 1 {
        paths.push(path);
    }
    at
}
