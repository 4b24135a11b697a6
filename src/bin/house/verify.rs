//! Every check of the project, one after the other.

use std::ffi::OsString;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::time::{Duration, Instant};

use crate::machine::{self, cargo, run};
use crate::{Outcome, licenses, site};

/// A check that can be asked for by its name.
struct Step {
    name: &'static str,
    heading: &'static str,
    check: fn() -> Outcome<()>,
}

const STEPS: &[Step] = &[
    Step {
        name: "fmt",
        heading: "Rust is laid out as rustfmt does",
        check: fmt,
    },
    Step {
        name: "clippy",
        heading: "Clippy finds nothing, for this machine and for the browser",
        check: clippy,
    },
    Step {
        name: "docs",
        heading: "The documentation builds without a warning",
        check: docs,
    },
    Step {
        name: "native",
        heading: "Tests on this machine, the documentation's examples among them",
        check: native,
    },
    Step {
        name: "wasm",
        heading: "Tests as WebAssembly, in Node and in a browser",
        check: wasm,
    },
    Step {
        name: "site",
        heading: "The page builds",
        check: page_builds,
    },
    Step {
        name: "types",
        heading: "The page's scripts keep their types",
        check: types,
    },
    Step {
        name: "page",
        heading: "Tests of the page in a browser",
        check: page,
    },
    Step {
        name: "engines",
        heading: "The core of the page in Firefox and WebKit",
        check: engines,
    },
    Step {
        name: "licenses",
        heading: "Every part of the page may be given on, and none was withdrawn",
        check: licenses::check,
    },
];

/// What takes long, and runs only when it is asked for.
const LONG_STEPS: &[Step] = &[Step {
    name: "fuzz",
    heading: "Any bytes, for hours: RINGWRIGHT_FUZZ_SECONDS ends each target sooner",
    check: fuzz,
}];

/// Whether there is a step of this name.
pub fn is_step(name: &str) -> bool {
    every_step().any(|step| step.name == name)
}

fn every_step() -> impl Iterator<Item = &'static Step> {
    STEPS.iter().chain(LONG_STEPS)
}

/// Prints the steps and what they check.
pub fn list() {
    for step in every_step() {
        println!("{:8}{}", step.name, step.heading);
    }
}

/// Runs the named steps, or all; the exit code is bad if any failed.
pub fn verify(names: &[String]) -> ExitCode {
    let is_named = |step: &&Step| names.iter().any(|name| name == step.name);
    let asked: Vec<&Step> = if names.is_empty() {
        STEPS.iter().collect()
    } else {
        every_step().filter(is_named).collect()
    };
    let mut rows = Vec::new();
    for step in asked {
        println!("\n== {}: {}", step.name, step.heading);
        let start = Instant::now();
        let result = (step.check)();
        if let Err(message) = &result {
            eprintln!("{message}");
        }
        rows.push((step.name, result, start.elapsed()));
    }
    summarise(&rows)
}

fn summarise(rows: &[(&str, Outcome<()>, Duration)]) -> ExitCode {
    println!("\n{:8}{:9}{:>8}", "step", "result", "seconds");
    for (name, result, time) in rows {
        let word = if result.is_ok() { "passed" } else { "FAILED" };
        println!("{name:8}{word:9}{:8.1}", time.as_secs_f64());
        if let Err(message) = result {
            println!("        {}", message.lines().next().unwrap_or_default());
        }
    }
    let failed = rows.iter().filter(|(_, result, _)| result.is_err()).count();
    println!("{} passed, {failed} failed", rows.len() - failed);
    ExitCode::from(u8::from(failed > 0))
}

fn fmt() -> Outcome<()> {
    run(cargo().args(["fmt", "--check"]))
}

fn clippy() -> Outcome<()> {
    machine::ensure_wasm_target()?;
    run(cargo()
        .args(["clippy", "--locked", "--quiet", "--all-targets"])
        .args(["--features", "house,wasm-test-runner"])
        .args(["--", "-D", "warnings"]))?;
    run(cargo()
        .args(["clippy", "--locked", "--quiet", "--lib", "--test", "wasm"])
        .args(["--target", machine::WASM_TARGET])
        .args(["--", "-D", "warnings"]))
}

fn docs() -> Outcome<()> {
    run(cargo()
        .args(["doc", "--locked", "--quiet", "--no-deps"])
        .env("RUSTDOCFLAGS", "-D warnings"))
}

fn native() -> Outcome<()> {
    run(cargo().args(["test", "--locked", "--quiet", "--features", "house"]))
}

fn wasm() -> Outcome<()> {
    machine::ensure_wasm_target()?;
    machine::ensure_node()?;
    let browser = machine::ensure_browser()?;
    let settings = browser_settings(&browser)?;
    println!("-- Node");
    run(&mut wasm_tests())?;
    println!("-- Chromium");
    run(wasm_tests()
        .env("WASM_BINDGEN_USE_BROWSER", "1")
        .env("WASM_BINDGEN_TEST_WEBDRIVER_JSON", settings)
        .env("CHROMEDRIVER", browser.chromedriver))
}

fn wasm_tests() -> std::process::Command {
    let mut command = cargo();
    command
        .args(["test", "--locked", "--test", "wasm"])
        .args(["--target", machine::WASM_TARGET]);
    command
}

/// Writes what the driver must tell the browser, and says where.
fn browser_settings(browser: &machine::Browser) -> Outcome<PathBuf> {
    let settings = serde_json::json!({
        "goog:chromeOptions": {
            "binary": browser.chromium,
            "args": [
                "--headless=new",
                "--no-sandbox",
                "--disable-gpu",
                "--disable-dev-shm-usage",
                "--disable-quic",
                "--no-first-run",
                "--disable-background-networking",
                "--disable-component-update",
                "--disable-sync",
            ],
        },
    });
    let path = site::target_folder()?.join("webdriver.json");
    fs::write(&path, settings.to_string())
        .map_err(|error| format!("{}: {error}", path.display()))?;
    Ok(path)
}

fn page_builds() -> Outcome<()> {
    let out = Path::new("dist");
    site::build(out)?.report(out);
    Ok(())
}

fn types() -> Outcome<()> {
    page_builds()?;
    ensure_node_packages()?;
    for project in [
        "tests/page/tsconfig.page.json",
        "tests/page/tsconfig.worker.json",
    ] {
        let compiler = page_tests().join("node_modules/typescript/bin/tsc");
        run(machine::command("node")
            .arg(compiler)
            .args(["--project", project]))?;
    }
    Ok(())
}

fn page() -> Outcome<()> {
    page_builds()?;
    ensure_node_packages()?;
    machine::ensure_pdf_tools()?;
    let browser = machine::ensure_browser()?;
    let chromium = [("RINGWRIGHT_CHROMIUM", browser.chromium.into_os_string())];
    run_in_browsers(&page_test_files()?, &chromium)
}

fn engines() -> Outcome<()> {
    page_builds()?;
    ensure_node_packages()?;
    let browsers = machine::ensure_other_browsers(&site::target_folder()?)?;
    let engines = [
        ("RINGWRIGHT_FIREFOX", browsers.firefox.into_os_string()),
        (
            "RINGWRIGHT_GECKODRIVER",
            browsers.geckodriver.into_os_string(),
        ),
        ("RINGWRIGHT_WEBKIT", browsers.webkit.into_os_string()),
    ];
    run_in_browsers(&["every_engine.mjs".to_owned()], &engines)
}

/// More files than this fail together only if the page is at fault.
const MOST_FILES_TRIED_AGAIN: usize = 3;

/// Runs tests that drive a browser. A busy machine may lose a tap between two frames, so
/// a few failed files are run once more, which is said; what fails twice has failed.
fn run_in_browsers(files: &[String], browsers: &[(&str, OsString)]) -> Outcome<()> {
    let failed = site::target_folder()?.join("failed-page-tests.txt");
    let tests = |files: &[String]| {
        // A test that hangs is ended; the limit judges nobody's speed.
        run(machine::command("node")
            .args(["--test", "--test-timeout=900000"])
            .args([
                "--test-reporter=spec",
                "--test-reporter-destination=stdout",
                "--test-reporter=./failed_files.mjs",
            ])
            .arg(format!("--test-reporter-destination={}", failed.display()))
            .args(files)
            .current_dir(page_tests())
            .envs(browsers.iter().map(|(name, path)| (name, path))))
    };
    let Err(first) = tests(files) else {
        return Ok(());
    };
    let again: Vec<String> = fs::read_to_string(&failed)
        .unwrap_or_default()
        .lines()
        .map(str::to_owned)
        .collect();
    if again.is_empty() || again.len() > MOST_FILES_TRIED_AGAIN {
        return Err(first);
    }
    println!("-- once more: {}", again.join(", "));
    tests(&again)?;
    println!(
        "-- unsteady, passed at the second try: {}",
        again.join(", ")
    );
    Ok(())
}

/// The targets of `fuzz/`: how often each is run, and how many bytes say enough.
const FUZZ_TARGETS: &[(&str, u64, u32)] = &[
    ("length", 10_000_000, 64),
    ("link", 10_000_000, 1024),
    ("file", 10_000_000, 1024),
    ("boards", 10_000_000, 256),
    ("glued", 10_000_000, 256),
    // Each of these is up to forty changes.
    ("edits", 1_000_000, 512),
];

fn fuzz() -> Outcome<()> {
    let target = site::target_folder()?;
    let fuzzer = machine::ensure_fuzzer(&target)?;
    let seconds = std::env::var("RINGWRIGHT_FUZZ_SECONDS").ok();
    for &(name, runs, longest) in FUZZ_TARGETS {
        let until = match &seconds {
            Some(seconds) => format!("-max_total_time={seconds}"),
            None => format!("-runs={runs}"),
        };
        println!("-- {name}: {until}");
        // What it finds on its way stays out of the sources; what fails lands in
        // `fuzz/artifacts/`, and belongs into `fuzz/corpus/` once it is mended.
        let found = target.join("fuzz-corpus").join(name);
        fs::create_dir_all(&found).map_err(|error| format!("{}: {error}", found.display()))?;
        let kept = machine::project_root().join("fuzz/corpus").join(name);
        run(machine::command(&fuzzer)
            .args([
                "fuzz",
                "run",
                "--sanitizer",
                "none",
                "--no-trace-compares",
                name,
            ])
            .arg(found)
            .args(kept.is_dir().then_some(kept))
            .arg("--")
            .arg(until)
            .arg(format!("-max_len={longest}"))
            .args(["-timeout=30", "-print_final_stats=1"])
            .env("RUSTUP_TOOLCHAIN", "nightly"))?;
    }
    Ok(())
}

fn page_tests() -> PathBuf {
    machine::project_root().join("tests/page")
}

fn page_test_files() -> Outcome<Vec<String>> {
    let folder = page_tests();
    let said = |error| format!("{}: {error}", folder.display());
    let mut files = Vec::new();
    for entry in fs::read_dir(&folder).map_err(said)? {
        let name = entry.map_err(said)?.file_name();
        let name = name.to_string_lossy();
        if name.ends_with(".test.mjs") {
            files.push(name.into_owned());
        }
    }
    if files.is_empty() {
        return Err(format!("{}: there are no tests", folder.display()));
    }
    files.sort();
    Ok(files)
}

/// Installs what the page's tests need, unless exactly that is there already.
pub fn ensure_node_packages() -> Outcome<()> {
    machine::ensure_node()?;
    let folder = page_tests();
    let wanted = fs::read(folder.join("package-lock.json"))
        .map_err(|error| format!("tests/page/package-lock.json: {error}"))?;
    let mark = folder.join("node_modules/installed-from-lock.json");
    if fs::read(&mark).is_ok_and(|installed| installed == wanted) {
        return Ok(());
    }
    println!("Installing the page tests' packages with `npm ci`");
    run(machine::command("npm").arg("ci").current_dir(&folder)).map_err(|error| {
        format!("{error}.\nThe packages come from the npm registry; try `npm ci` in tests/page.")
    })?;
    fs::write(&mark, wanted).map_err(|error| format!("{}: {error}", mark.display()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn steps_have_names_of_their_own() {
        let names: Vec<&str> = every_step().map(|step| step.name).collect();
        for (place, name) in names.iter().enumerate() {
            assert!(is_step(name));
            assert!(!names[..place].contains(name));
        }
        assert!(!is_step("everything"));
    }

    #[test]
    fn one_failure_makes_the_exit_code_bad() {
        let passed = || ("a", Ok(()), Duration::ZERO);
        let failed = ("b", Err("planted".to_owned()), Duration::ZERO);
        let text = |code: ExitCode| format!("{code:?}");
        assert_eq!(text(summarise(&[passed()])), text(ExitCode::SUCCESS));
        assert_eq!(
            text(summarise(&[passed(), failed])),
            text(ExitCode::FAILURE)
        );
    }
}
