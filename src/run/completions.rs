//! `slabwalk completions`: a script that completes commands and options.

use clap::CommandFactory;

use super::{Exit, terminal};
use crate::cli::{Cli, CompletionsArgs};

pub(super) fn completions(args: &CompletionsArgs) -> Exit {
    let mut script = Vec::new();
    clap_complete::generate(args.shell, &mut Cli::command(), "slabwalk", &mut script);
    terminal::data(&String::from_utf8_lossy(&script))
}
