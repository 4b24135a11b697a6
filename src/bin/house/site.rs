//! Builds the page: the library as wasm, its glue, and what is in `www/`.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::fs;
use std::path::{Path, PathBuf};

use base64::Engine as _;
use base64::prelude::BASE64_STANDARD;
use sha2::{Digest as _, Sha256};
use wasm_bindgen_cli_support::Bindgen;

use crate::lean::lean;
use crate::link_modules::{self, Sources};
use crate::single_file::{Parts, single_file};
use crate::templates::{Words, fill};
use crate::{Outcome, licenses, machine};
use ringwright::design::field::FIELDS;

/// The module that starts the page.
pub const FIRST_MODULE: &str = "main.js";

/// What paper is set in.
pub const TYPEFACE: &str = "fonts/arimo.ttc";

const GLUE: &str = "ringwright.js";
const WASM: &str = "ringwright_bg.wasm";
const SINGLE_FILE: &str = "ringwright.html";
const TYPES: &str = "types/ringwright.d.ts";

const FOLDER_POLICY: &str = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; \
    style-src 'self'; img-src 'self' data: blob:; font-src 'self'; connect-src 'self'; \
    worker-src 'self'; manifest-src 'self'; base-uri 'none'; form-action 'none'";

/// Files by their path below the page's folder.
type Files = BTreeMap<String, Vec<u8>>;

/// What a build made.
pub struct Site {
    files: Files,
}

impl Site {
    /// What a first visit loads: the page, and all that its service worker keeps.
    pub fn first_visit(self) -> Vec<(String, Vec<u8>)> {
        let mut files: Vec<_> = self.files.into_iter().collect();
        files.retain(|(path, _)| !is_extra(path));
        files
    }

    /// Says what was built and how large it is.
    pub fn report(&self, out: &Path) {
        let (single, folder): (Vec<_>, Vec<_>) = self
            .files
            .iter()
            .filter(|(path, _)| *path != TYPES)
            .partition(|(path, _)| *path == SINGLE_FILE);
        let kilobytes = |files: &[(&String, &Vec<u8>)]| {
            files.iter().map(|(_, bytes)| bytes.len()).sum::<usize>() / 1000
        };
        println!(
            "Built {}: {} files, {} kB; all in one file: {}, {} kB",
            out.display(),
            folder.len(),
            kilobytes(&folder),
            out.join(SINGLE_FILE).display(),
            kilobytes(&single)
        );
    }
}

/// Whether a first visit leaves this file alone.
fn is_extra(path: &str) -> bool {
    path == TYPES || path == SINGLE_FILE || is_late(path)
}

/// Whether it is loaded only when paper is made, and kept from then on.
fn is_late(path: &str) -> bool {
    path.starts_with("fonts/")
}

/// Builds the page into `out`.
pub fn build(out: &Path) -> Outcome<Site> {
    machine::ensure_wasm_target()?;
    let bound = bind(&compile_library()?)?;
    let page = read_page()?;
    each_word_is_named(page.clone())?;
    let files = assemble(bound, page, &licenses::in_html()?)?;
    write_folder(&machine::project_root().join(out), &files)?;
    Ok(Site { files })
}

/// What wasm-bindgen makes of the library.
struct Bound {
    glue: String,
    types: String,
    wasm: Vec<u8>,
}

fn compile_library() -> Outcome<PathBuf> {
    // Naming the crate type keeps fat link-time optimization, which is dropped
    // without a word when `cdylib` and `rlib` are built together.
    machine::run(
        machine::cargo()
            .args(["rustc", "--quiet", "--locked", "--release", "--lib"])
            .args(["--crate-type", "cdylib", "--target", machine::WASM_TARGET])
            .env(
                "CARGO_ENCODED_RUSTFLAGS",
                without_own_paths().join("\u{1f}"),
            ),
    )?;
    Ok(target_folder()?.join(format!("{}/release/ringwright.wasm", machine::WASM_TARGET)))
}

/// Panic texts name source files: these flags keep this machine's folders out of
/// the published page, and make it the same wherever it is built.
fn without_own_paths() -> Vec<String> {
    let home = std::env::var_os("CARGO_HOME")
        .map(PathBuf::from)
        .or_else(|| std::env::var_os("HOME").map(|home| PathBuf::from(home).join(".cargo")));
    let mut flags = vec![format!(
        "--remap-path-prefix={}=ringwright",
        machine::project_root().display()
    )];
    let registry = home.and_then(|home| fs::read_dir(home.join("registry/src")).ok());
    for folder in registry.into_iter().flatten().flatten() {
        let folder = folder.path();
        flags.push(format!("--remap-path-prefix={}=crates", folder.display()));
    }
    flags
}

/// Where cargo puts what it builds.
pub fn target_folder() -> Outcome<PathBuf> {
    let told = machine::printed(machine::cargo().args([
        "metadata",
        "--no-deps",
        "--offline",
        "--format-version",
        "1",
    ]))?;
    let told: serde_json::Value =
        serde_json::from_str(&told).map_err(|error| format!("cargo metadata: {error}"))?;
    told["target_directory"]
        .as_str()
        .map(PathBuf::from)
        .ok_or_else(|| "cargo metadata names no target folder".into())
}

fn bind(library: &Path) -> Outcome<Bound> {
    let work = library.with_file_name("bound");
    let said = |error| format!("wasm-bindgen: {error:#}");
    let mut bindgen = Bindgen::new();
    bindgen
        .web(true)
        .map_err(said)?
        .typescript(true)
        .remove_name_section(true)
        .remove_producers_section(true)
        // After a trap the instance is no longer to be trusted: this exports
        // `__wbg_reset_state()`, which puts a fresh one in its place at once.
        .reset_state_function(true)
        .input_path(library);
    bindgen.generate(&work).map_err(said)?;
    Ok(Bound {
        glue: read_text(&work.join(GLUE))?,
        types: read_text(&work.join("ringwright.d.ts"))?,
        wasm: read(&work.join(WASM))?,
    })
}

fn read_page() -> Outcome<Files> {
    let mut files = Files::new();
    read_folder(&machine::project_root().join("www"), "", &mut files)?;
    Ok(files)
}

fn read_folder(folder: &Path, prefix: &str, files: &mut Files) -> Outcome<()> {
    let said = |error| format!("{}: {error}", folder.display());
    for entry in fs::read_dir(folder).map_err(said)? {
        let entry = entry.map_err(said)?;
        let name = format!("{prefix}{}", entry.file_name().to_string_lossy());
        if entry.path().is_dir() {
            read_folder(&entry.path(), &format!("{name}/"), files)?;
        } else if !entry.file_name().to_string_lossy().starts_with('.') {
            files.insert(name, read(&entry.path())?);
        }
    }
    Ok(())
}

/// Everything to be written: the page's files with their places filled, the glue,
/// the wasm, the types, and the single file.
fn assemble(bound: Bound, mut files: Files, licenses: &str) -> Outcome<Files> {
    let words = Words::new(ringwright::show::words::all())?;
    let labels = Words::new(FIELDS.iter().map(|field| (field.key, field.label)))?;
    let page = take_text(&mut files, "index.html")?;
    let worker = lean(&take_text(&mut files, "sw.js")?);
    let manifest = take_text(&mut files, "manifest.webmanifest")?;
    files.insert(
        "manifest.webmanifest".into(),
        fill("manifest.webmanifest", &manifest, |key| words.in_json(key))?.into_bytes(),
    );
    files.insert(GLUE.into(), bound.glue.into_bytes());
    make_lean(&mut files)?;

    let modules = modules_of(&files)?;
    let order = link_modules::order(FIRST_MODULE, &modules)?;
    let scripts = modules.values().map(String::as_str);
    let html = fill("index.html", &page, |key| match key {
        "csp" => Some("{{csp}}".into()),
        "words" => Some(words.as_script_json(scripts.clone())),
        "preload" => Some(preload(&order)),
        "licenses" => Some(licenses.to_owned()),
        _ => words
            .in_html(key)
            .or_else(|| labels.in_html(key))
            .or_else(|| words.way_tiles(key)),
    })?;
    if !html.contains("{{csp}}") {
        return Err("index.html: there is no place {{csp}} for the content policy".into());
    }
    let alone = single_file(&Parts {
        html: &html,
        modules: &modules,
        files: &files,
        wasm: &bound.wasm,
    })?;
    let html = html.replacen("{{csp}}", FOLDER_POLICY, 1);
    files.insert("index.html".into(), html.into_bytes());
    files.insert(WASM.into(), bound.wasm);

    let worker = fill("sw.js", &worker, |key| match key {
        "precache" => Some(precache(&files, |path| !is_late(path))),
        "late" => Some(precache(&files, is_late)),
        "version" => Some(version(&files)),
        _ => None,
    })?;
    files.insert("sw.js".into(), worker.into_bytes());
    files.insert(SINGLE_FILE.into(), alone.into_bytes());
    files.insert(TYPES.into(), bound.types.into_bytes());
    Ok(files)
}

fn take_text(files: &mut Files, name: &str) -> Outcome<String> {
    let bytes = files
        .remove(name)
        .ok_or_else(|| format!("www/{name} is not there"))?;
    String::from_utf8(bytes).map_err(|_| format!("www/{name} is not plain text"))
}

/// Refuses words that only the page could name, and that it does not.
fn each_word_is_named(mut page: Files) -> Outcome<()> {
    let markup = take_text(&mut page, "index.html")?;
    let manifest = take_text(&mut page, "manifest.webmanifest")?;
    make_lean(&mut page)?;
    let modules = modules_of(&page)?;
    let scripts: Vec<&str> = modules.values().map(String::as_str).collect();
    let keys = ringwright::show::words::keys_of_the_page();
    let orphans = Words::orphans(keys, &[&markup, &manifest], &scripts);
    if orphans.is_empty() {
        return Ok(());
    }
    Err(format!("nobody names these words: {}", orphans.join(", ")))
}

/// Scripts and styles as they are served.
fn make_lean(files: &mut Files) -> Outcome<()> {
    for (path, bytes) in files.iter_mut() {
        let ending = Path::new(path).extension();
        if ending.is_some_and(|ending| ending == "js" || ending == "css") {
            let text = std::str::from_utf8(bytes);
            let text = text.map_err(|_| format!("www/{path} is not plain text"))?;
            *bytes = lean(text).into_bytes();
        }
    }
    Ok(())
}

fn modules_of(files: &Files) -> Outcome<Sources> {
    files
        .iter()
        .filter(|(path, _)| {
            Path::new(path)
                .extension()
                .is_some_and(|ending| ending == "js")
        })
        .map(|(path, bytes)| {
            let text = String::from_utf8(bytes.clone());
            let text = text.map_err(|_| format!("www/{path} is not plain text"))?;
            Ok((path.clone(), text))
        })
        .collect()
}

/// Lets the browser fetch all modules and the wasm at once, not one after another
/// as each import is found.
fn preload(order: &[String]) -> String {
    let mut links: Vec<String> = order
        .iter()
        .rev()
        .map(|path| format!("<link rel=\"modulepreload\" href=\"./{path}\">"))
        .collect();
    links.push(format!(
        "<link rel=\"preload\" href=\"./{WASM}\" as=\"fetch\" type=\"application/wasm\" crossorigin>"
    ));
    links.join("\n")
}

/// The addresses that the service worker keeps, each with the hash of what must
/// stand there. The page itself is `./`, the address at which it is opened.
fn precache(files: &Files, is_wanted: impl Fn(&str) -> bool) -> String {
    let addresses: Vec<[String; 2]> = files
        .iter()
        .filter(|(path, _)| is_wanted(path))
        .map(|(path, bytes)| {
            let address = match path.as_str() {
                "index.html" => "./".into(),
                path => format!("./{path}"),
            };
            [address, integrity(bytes)]
        })
        .collect();
    serde_json::json!(addresses).to_string()
}

/// The hash of a file as browsers take it.
pub fn integrity(bytes: &[u8]) -> String {
    format!("sha256-{}", BASE64_STANDARD.encode(Sha256::digest(bytes)))
}

/// Changes whenever any file does, and only then.
fn version(files: &Files) -> String {
    let mut hash = Sha256::new();
    for (path, bytes) in files {
        hash.update(path.len().to_le_bytes());
        hash.update(path);
        hash.update(bytes.len().to_le_bytes());
        hash.update(bytes);
    }
    let digest = hash.finalize();
    let mut version = String::new();
    for byte in &digest[..8] {
        let _ = write!(version, "{byte:02x}");
    }
    version
}

fn write_folder(folder: &Path, files: &Files) -> Outcome<()> {
    clear(folder)?;
    for (path, bytes) in files {
        let path = folder.join(path);
        let said = |error| format!("{}: {error}", path.display());
        if let Some(parent) = path.parent() {
            fs::create_dir_all(parent).map_err(said)?;
        }
        fs::write(&path, bytes).map_err(said)?;
    }
    Ok(())
}

/// Empties a folder that an earlier build made. A folder of someone else's is
/// never emptied.
fn clear(folder: &Path) -> Outcome<()> {
    let said = |error| format!("{}: {error}", folder.display());
    if !folder.exists() {
        return Ok(());
    }
    let empty = fs::read_dir(folder).map_err(said)?.next().is_none();
    if !empty && !folder.join(SINGLE_FILE).is_file() {
        return Err(format!(
            "{} holds files that no build made. Give an empty folder, or one built before.",
            folder.display()
        ));
    }
    fs::remove_dir_all(folder).map_err(said)
}

fn read(path: &Path) -> Outcome<Vec<u8>> {
    fs::read(path).map_err(|error| format!("{}: {error}", path.display()))
}

fn read_text(path: &Path) -> Outcome<String> {
    String::from_utf8(read(path)?).map_err(|_| format!("{} is not plain text", path.display()))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn bound() -> Bound {
        Bound {
            glue: "export function plan() {}\n".into(),
            types: String::new(),
            wasm: vec![1, 2],
        }
    }

    fn page() -> Files {
        let file = |name: &str, text: &str| (name.to_owned(), text.as_bytes().to_vec());
        Files::from([
            file(
                "index.html",
                "<meta content=\"{{csp}}\">{{preload}}<body></body>",
            ),
            file(
                "main.js",
                "import { plan } from './ringwright.js';\nplan();\n",
            ),
            file("manifest.webmanifest", "{}"),
            file("sw.js", "'{{version}}'\n{{precache}}\n{{late}}"),
            file(TYPEFACE, "letters"),
        ])
    }

    fn text(files: &Files, name: &str) -> String {
        String::from_utf8(files[name].clone()).expect("plain text")
    }

    #[test]
    fn the_worker_keeps_what_the_page_loads_and_no_more() {
        let files = assemble(bound(), page(), "").expect("a page");
        let worker = text(&files, "sw.js");
        let mut lists = worker.lines().skip(1).map(|list| {
            let list: Vec<[String; 2]> = serde_json::from_str(list).expect("JSON");
            list
        });
        let list = lists.next().expect("what is kept at once");
        let addresses: Vec<&str> = list.iter().map(|[address, _]| address.as_str()).collect();
        assert_eq!(
            addresses,
            [
                "./",
                "./main.js",
                "./manifest.webmanifest",
                "./ringwright.js",
                "./ringwright_bg.wasm"
            ]
        );
        let late = lists.next().expect("what is kept later");
        assert!(
            late.len() == 1 && late[0][0] == format!("./{TYPEFACE}"),
            "{late:?}"
        );
        let site = Site {
            files: assemble(bound(), page(), "").expect("a page"),
        };
        let first = site.first_visit();
        assert!(first.iter().all(|(path, _)| path != TYPEFACE) && first.len() > 4);
        // By `printf '\001\002' | sha256sum`, in base 64.
        assert_eq!(
            list[4][1],
            "sha256-oShx/uIQ+4YZKR6uoZRYHL0lMeSyN1nSJfaAaSP2MiI="
        );
    }

    #[test]
    fn the_version_follows_the_content() {
        let made = |page| text(&assemble(bound(), page, "").expect("a page"), "sw.js");
        let mut changed = page();
        changed.insert("a.css".into(), vec![1]);
        assert_eq!(made(page()), made(page()));
        assert_ne!(made(page())[..18], made(changed)[..18]);
    }

    #[test]
    fn an_unknown_word_stops_the_build() {
        let mut page = page();
        page.insert(
            "index.html".into(),
            b"{{csp}}{{no_such_word}}</body>".to_vec(),
        );
        let message = assemble(bound(), page, "").map(|_| ());
        assert!(message.is_err_and(|message| message.contains("no_such_word")));
    }

    #[test]
    fn the_folder_policy_names_no_other_place() {
        let files = assemble(bound(), page(), "").expect("a page");
        let html = text(&files, "index.html");
        assert!(html.contains("default-src 'none'"), "{html}");
        assert!(
            html.contains("modulepreload\" href=\"./ringwright.js\""),
            "{html}"
        );
        assert!(!html.contains("{{") && !html.contains("http"), "{html}");
    }

    #[test]
    fn a_strange_folder_is_not_emptied() {
        let message = clear(&machine::project_root().join("src"));
        assert!(message.is_err_and(|message| message.contains("no build made")));
    }
}
