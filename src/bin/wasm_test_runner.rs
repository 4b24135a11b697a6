//! Runs tests that were compiled to WebAssembly, in Node or in a browser.
//!
//! Cargo calls it as the runner of the wasm target (see `.cargo/config.toml`), so
//! that no tool has to be installed for them.

fn main() {
    if let Err(error) =
        wasm_bindgen_cli::wasm_bindgen_test_runner::run_cli_with_args(std::env::args_os())
    {
        eprintln!("{error:#}");
        std::process::exit(1);
    }
}
