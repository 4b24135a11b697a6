//! The house: what builds, serves, checks and measures Ringwright.
//!
//! `cargo site`, `cargo verify` and `cargo figures` are aliases for this binary
//! (see `.cargo/config.toml`). Nothing has to be installed first except Rust and
//! Node; what else is missing, [`machine`] adds and says so.

mod command_line;
mod figures;
mod lean;
mod licenses;
mod link_modules;
mod machine;
mod serve;
mod single_file;
mod site;
mod templates;
mod verify;

use std::process::ExitCode;

/// Every failure of the house is one text for a person to read.
type Outcome<T> = Result<T, String>;

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    match command_line::parse(&words).and_then(run) {
        Ok(exit_code) => exit_code,
        Err(message) => {
            eprintln!("{message}");
            ExitCode::from(2)
        }
    }
}

fn run(task: command_line::Task) -> Outcome<ExitCode> {
    use command_line::Task;
    match task {
        Task::Help(text) => println!("{text}"),
        Task::Build { out } => site::build(&out)?.report(&out),
        Task::Serve { out, port } => {
            site::build(&out)?.report(&out);
            serve::serve(&out, port)?;
        }
        Task::ListSteps => verify::list(),
        Task::Verify { steps } => return Ok(verify::verify(&steps)),
        Task::Figures => figures::figures()?,
    }
    Ok(ExitCode::SUCCESS)
}
