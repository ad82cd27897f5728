//! `slabwalk manual`: the manual page, every command in one.

use clap::{Command, CommandFactory};
use clap_mangen::Man;

use super::{Exit, terminal};
use crate::cli::Cli;

pub(super) fn manual() -> Exit {
    match page() {
        Ok(page) => terminal::data(&page),
        Err(error) => {
            terminal::message(&format!("error: the manual page can't be made: {error}\n"));
            Exit::File
        }
    }
}

/// The page of the whole program, and a section for each command.
fn page() -> std::io::Result<String> {
    let mut root = Cli::command();
    root.build();
    let man = Man::new(root.clone());
    let mut out = Vec::new();
    man.render_title(&mut out)?;
    man.render_name_section(&mut out)?;
    man.render_synopsis_section(&mut out)?;
    man.render_description_section(&mut out)?;
    man.render_options_section(&mut out)?;
    let mut page = String::from_utf8_lossy(&out).into_owned();
    for command in root.get_subcommands().filter(|c| c.get_name() != "help") {
        page += &section(command)?;
    }
    let mut out = Vec::new();
    man.render_extra_section(&mut out)?;
    page += &preformatted(&String::from_utf8_lossy(&out));
    Ok(page)
}

/// A command with its synopsis, options and examples.
fn section(command: &Command) -> std::io::Result<String> {
    let man = Man::new(command.clone());
    let mut synopsis = Vec::new();
    man.render_synopsis_section(&mut synopsis)?;
    man.render_description_section(&mut synopsis)?;
    man.render_options_section(&mut synopsis)?;
    let body = String::from_utf8_lossy(&synopsis).replace(".SH ", ".SS ");
    let shown = |line: &&str| !line.starts_with(".ie") && !line.starts_with(".el");
    let body: String = body.lines().filter(shown).map(|line| format!("{line}\n")).collect();
    let mut extra = Vec::new();
    man.render_extra_section(&mut extra)?;
    let extra = String::from_utf8_lossy(&extra).replace(".SH EXTRA", ".SS EXAMPLES");
    let name = command.get_name().to_uppercase();
    Ok(format!(".SH \"{name}\"\n{body}{}", preformatted(&extra)))
}

/// Lines that stay as they are: examples are columns.
fn preformatted(extra: &str) -> String {
    let shown = |line: &&str| !line.starts_with(".ie") && !line.starts_with(".el");
    let mut lines = extra.lines().filter(shown).filter(|line| *line != "Examples:");
    let Some(heading) = lines.next() else {
        return String::new();
    };
    let text: Vec<&str> = lines.collect();
    format!("{heading}\n.nf\n{}\n.fi\n", text.join("\n").trim_end())
}
