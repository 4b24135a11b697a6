//! Measures speed and size, and prints them as one table.
//!
//! Nothing here judges: a figure on a busy machine says little, so the table is for a
//! person to read and no test depends on it.

use std::fs;
use std::io::Write as _;
use std::path::Path;

use crate::{Outcome, machine, site, verify};

/// The best that both packers offer: a static host packs once and serves often.
const BROTLI_QUALITY: i32 = 11;
const BROTLI_WINDOW: i32 = 22;

/// The peer for size: a general calculator in Rust that runs in web pages.
const PEER: &str = "fend-wasm-web";
const PEER_FILES: [&str; 2] = ["fend_wasm_bg.wasm", "fend_wasm.js"];

/// Measures everything that the table shows.
pub fn figures() -> Outcome<()> {
    let built = site::build(Path::new("dist"))?;
    verify::ensure_node_packages()?;
    let browser = machine::ensure_browser()?;

    print_rows("On this machine", &native_rows()?)?;
    print_rows("In the browser", &browser_rows(&browser)?)?;
    print_sizes("All that a first visit loads, bytes", &built.first_visit())?;
    print_sizes(
        &format!("For comparison: {PEER}, a general calculator, bytes"),
        &peer_files()?,
    )
}

fn native_rows() -> Outcome<String> {
    machine::printed(machine::cargo().args(["bench", "--quiet", "--locked", "--bench", "figures"]))
}

fn browser_rows(browser: &machine::Browser) -> Outcome<String> {
    machine::printed(
        machine::command("node")
            .arg("tests/page/figures.mjs")
            .env("RINGWRIGHT_CHROMIUM", &browser.chromium),
    )
}

fn print_rows(heading: &str, rows: &str) -> Outcome<()> {
    println!("\n{heading}");
    for line in rows.lines() {
        let cells: Vec<&str> = line.split('\t').collect();
        let [what, number, unit] = cells[..] else {
            return Err(format!("this is no row of the table: `{line}`"));
        };
        println!("  {what:60}{number:>10} {unit}");
    }
    Ok(())
}

fn peer_files() -> Outcome<Vec<(String, Vec<u8>)>> {
    let folder = machine::project_root()
        .join("tests/page/node_modules")
        .join(PEER);
    PEER_FILES
        .iter()
        .map(|name| {
            let path = folder.join(name);
            let bytes = fs::read(&path).map_err(|error| format!("{PEER}: {name}: {error}"))?;
            Ok(((*name).to_owned(), bytes))
        })
        .collect()
}

fn print_sizes(heading: &str, files: &[(String, Vec<u8>)]) -> Outcome<()> {
    println!("\n{heading}");
    println!("  {:40}{:>10}{:>10}{:>10}", "", "raw", "gzip", "brotli");
    let mut sums = [0; 3];
    for (name, bytes) in files {
        let sizes = [bytes.len(), gzip_size(bytes)?, brotli_size(bytes)?];
        print_size_row(name, sizes);
        for (sum, size) in sums.iter_mut().zip(sizes) {
            *sum += size;
        }
    }
    print_size_row("in all", sums);
    Ok(())
}

fn print_size_row(name: &str, [raw, gzip, brotli]: [usize; 3]) {
    println!("  {name:40}{raw:>10}{gzip:>10}{brotli:>10}");
}

fn gzip_size(bytes: &[u8]) -> Outcome<usize> {
    let mut packer = flate2::write::GzEncoder::new(Vec::new(), flate2::Compression::best());
    packer
        .write_all(bytes)
        .and_then(|()| packer.finish())
        .map(|packed| packed.len())
        .map_err(|error| format!("gzip: {error}"))
}

fn brotli_size(bytes: &[u8]) -> Outcome<usize> {
    let settings = brotli::enc::BrotliEncoderParams {
        quality: BROTLI_QUALITY,
        lgwin: BROTLI_WINDOW,
        ..Default::default()
    };
    let mut packed = Vec::new();
    brotli::BrotliCompress(&mut &bytes[..], &mut packed, &settings)
        .map_err(|error| format!("brotli: {error}"))?;
    Ok(packed.len())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn packing_makes_repetition_small() {
        let bytes = [7; 10_000];
        assert!((1..100).contains(&gzip_size(&bytes).expect("packs")));
        assert!((1..100).contains(&brotli_size(&bytes).expect("packs")));
    }

    #[test]
    fn a_line_that_is_no_row_is_named() {
        assert!(print_rows("", "a\t1\tms\n").is_ok());
        assert!(print_rows("", "planted").is_err_and(|message| message.contains("planted")));
    }
}
