//! What the machine must have, and how it gets it.
//!
//! Each thing is looked for first. What is missing is installed in the open; what
//! cannot be installed from here is named, with the command that would do it.

use std::env;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use crate::Outcome;

/// The target that the page's library is compiled for.
pub const WASM_TARGET: &str = "wasm32-unknown-unknown";

/// The oldest Node whose test runner and browser client the page's tests need.
const OLDEST_NODE_MAJOR: u32 = 20;

/// The project's folder. Cargo tells it to what it runs.
pub fn project_root() -> PathBuf {
    env::var_os("CARGO_MANIFEST_DIR").map_or_else(|| PathBuf::from("."), PathBuf::from)
}

/// A command that starts in the project's folder.
pub fn command(program: impl AsRef<std::ffi::OsStr>) -> Command {
    let mut command = Command::new(program);
    command.current_dir(project_root());
    command
}

/// The cargo that runs this binary.
pub fn cargo() -> Command {
    command(env::var_os("CARGO").unwrap_or_else(|| "cargo".into()))
}

/// Runs a command with its output shown.
pub fn run(command: &mut Command) -> Outcome<()> {
    let line = spoken(command);
    let status = command
        .status()
        .map_err(|error| format!("`{line}` did not start: {error}"))?;
    if status.success() {
        Ok(())
    } else {
        Err(format!("`{line}` failed ({status})"))
    }
}

/// Runs a command and hands back what it printed.
pub fn printed(command: &mut Command) -> Outcome<String> {
    let line = spoken(command);
    let output = command
        .stderr(Stdio::inherit())
        .output()
        .map_err(|error| format!("`{line}` did not start: {error}"))?;
    if !output.status.success() {
        return Err(format!("`{line}` failed ({})", output.status));
    }
    String::from_utf8(output.stdout).map_err(|_| format!("`{line}` printed no plain text"))
}

fn spoken(command: &Command) -> String {
    let program = Path::new(command.get_program())
        .file_name()
        .unwrap_or(command.get_program());
    let mut words = vec![program.to_string_lossy().into_owned()];
    words.extend(
        command
            .get_args()
            .map(|word| word.to_string_lossy().into_owned()),
    );
    words.join(" ")
}

/// Makes sure that Rust can compile for the browser.
pub fn ensure_wasm_target() -> Outcome<()> {
    let folder =
        printed(command(rustc()).args(["--print", "target-libdir", "--target", WASM_TARGET]))?;
    if Path::new(folder.trim()).is_dir() {
        return Ok(());
    }
    println!("Rust's {WASM_TARGET} target is missing: adding it with rustup (about a minute)");
    run(command("rustup").args(["target", "add", WASM_TARGET])).map_err(|error| {
        format!(
            "Rust's {WASM_TARGET} target could not be added: {error}.\n\
             Get it by hand: `rustup target add {WASM_TARGET}`, or your system's package of it."
        )
    })
}

/// What Rust calls this machine.
pub fn host_target() -> Outcome<String> {
    let told = printed(command(rustc()).arg("-vV"))?;
    let host = told.lines().find_map(|line| line.strip_prefix("host: "));
    host.map(str::to_owned)
        .ok_or_else(|| "rustc does not name this machine".into())
}

fn rustc() -> std::ffi::OsString {
    env::var_os("RUSTC").unwrap_or_else(|| "rustc".into())
}

/// The browser and its driver: where they are, installed if need be.
pub struct Browser {
    pub chromium: PathBuf,
    pub chromedriver: PathBuf,
}

/// Makes sure that there is a Chromium with its driver.
pub fn ensure_browser() -> Outcome<Browser> {
    ensure_debian_packages(&[
        ("chromium", "chromium"),
        ("chromedriver", "chromium-driver"),
    ])?;
    Ok(Browser {
        chromium: found_on_path("chromium").ok_or("chromium is still not on the PATH")?,
        chromedriver: found_on_path("chromedriver")
            .ok_or("chromedriver is still not on the PATH")?,
    })
}

/// The version of Firefox's driver.
const GECKODRIVER: &str = "0.37.1";

/// What fuzzing needs beside a nightly Rust.
const CARGO_FUZZ: &str = "0.13.2";

/// The small browser of the third engine, as Debian's package of its driver brings it.
const WEBKIT: &str = "/usr/lib/x86_64-linux-gnu/webkit2gtk-4.1/MiniBrowser";

/// Browsers of other engines than Chromium's: where they are, installed if need be.
pub struct OtherBrowsers {
    pub firefox: PathBuf,
    pub geckodriver: PathBuf,
    pub webkit: PathBuf,
}

/// Makes sure that there are a Firefox and a `WebKit` with their drivers, and a screen for
/// the one that needs it.
pub fn ensure_other_browsers(target: &Path) -> Outcome<OtherBrowsers> {
    ensure_debian_packages(&[
        ("firefox-esr", "firefox-esr"),
        ("WebKitWebDriver", "webkit2gtk-driver"),
        ("xvfb-run", "xvfb"),
        ("xauth", "xauth"),
    ])?;
    let webkit = Path::new(WEBKIT);
    if !webkit.is_file() {
        return Err(format!("{WEBKIT} is not there, though its driver is."));
    }
    Ok(OtherBrowsers {
        firefox: found_on_path("firefox-esr").ok_or("firefox-esr is still not on the PATH")?,
        geckodriver: ensure_cargo_tool(target, "geckodriver", GECKODRIVER)?,
        webkit: webkit.to_owned(),
    })
}

/// Makes sure that fuzzing can be done.
pub fn ensure_fuzzer(target: &Path) -> Outcome<PathBuf> {
    let toolchains = printed(command("rustup").args(["toolchain", "list"]))?;
    if !toolchains.lines().any(|line| line.starts_with("nightly-")) {
        println!("A nightly Rust is missing: adding it with rustup");
        run(command("rustup").args(["toolchain", "install", "nightly", "--profile", "minimal"]))?;
    }
    ensure_cargo_tool(target, "cargo-fuzz", CARGO_FUZZ)
}

/// A tool that cargo builds, of exactly this version, kept below the target folder: what the
/// machine's user has installed stays as it is.
fn ensure_cargo_tool(target: &Path, name: &str, version: &str) -> Outcome<PathBuf> {
    let folder = target.join("tools").join(format!("{name}-{version}"));
    let program = folder.join("bin").join(name);
    if !program.is_file() {
        println!("Building {name} {version} (a few minutes, once)");
        run(cargo()
            .args(["install", "--quiet", "--locked", name])
            .args(["--version", &format!("={version}")])
            .arg("--root")
            .arg(&folder)
            // What it compiles is of no use later.
            .env_remove("CARGO_TARGET_DIR"))?;
    }
    Ok(program)
}

/// Makes sure that PDF pages can be turned into pictures.
pub fn ensure_pdf_tools() -> Outcome<()> {
    ensure_debian_packages(&[("pdftoppm", "poppler-utils")])
}

/// Makes sure that a Node is there which the page's tests can run on.
pub fn ensure_node() -> Outcome<()> {
    let how = format!(
        "The page's tests need Node {OLDEST_NODE_MAJOR} or newer, with npm. \
         Get it from your system's packages or from Node's own site."
    );
    let version = printed(command("node").arg("--version"))
        .map_err(|error| format!("Node is missing: {error}.\n{how}"))?;
    let major = version.trim().trim_start_matches('v').split('.').next();
    let major: u32 = major.and_then(|text| text.parse().ok()).unwrap_or(0);
    if major < OLDEST_NODE_MAJOR {
        return Err(format!("Node {} is too old.\n{how}", version.trim()));
    }
    if found_on_path("npm").is_none() {
        return Err(format!("npm is missing.\n{how}"));
    }
    Ok(())
}

fn ensure_debian_packages(wanted: &[(&str, &str)]) -> Outcome<()> {
    let missing: Vec<&str> = wanted
        .iter()
        .filter(|(program, _)| found_on_path(program).is_none())
        .map(|(_, package)| *package)
        .collect();
    if missing.is_empty() {
        return Ok(());
    }
    let names = missing.join(" ");
    let install = format!("apt-get install -y --no-install-recommends {names}");
    if found_on_path("apt-get").is_none() {
        return Err(format!(
            "Missing here: {names}. On Debian: `{install}`; elsewhere use your system's packages."
        ));
    }
    println!("Missing here: {names}. Installing with `{install}`");
    let by_hand = |error: String| {
        format!(
            "{names} could not be installed: {error}.\n\
             As the administrator: `apt-get update && {install}`"
        )
    };
    run(command("apt-get").args(["update", "-q"]).quiet()).map_err(by_hand)?;
    run(command("apt-get")
        .args(["install", "-q", "-y", "--no-install-recommends"])
        .args(&missing)
        .env("DEBIAN_FRONTEND", "noninteractive")
        .quiet())
    .map_err(by_hand)
}

trait Quiet {
    fn quiet(&mut self) -> &mut Self;
}

impl Quiet for Command {
    /// Keeps a long install log off the screen; errors still show.
    fn quiet(&mut self) -> &mut Self {
        self.stdout(Stdio::null()).stdin(Stdio::null())
    }
}

/// Where a program is, if the PATH has it.
pub fn found_on_path(program: &str) -> Option<PathBuf> {
    let folders = env::var_os("PATH")?;
    env::split_paths(&folders)
        .map(|folder| folder.join(program))
        .find(|file| file.is_file())
}
