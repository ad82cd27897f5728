//! The `slabwalk` command: arguments in, work done, exit code out.

use std::process::ExitCode;

use clap::Parser;

fn main() -> ExitCode {
    let arguments = slabwalk::cli::Cli::parse();
    slabwalk::run::run(&arguments).into()
}
