//! Commands: the only place that touches files, the terminal and the environment.

mod audit;
mod change;
mod check;
mod closeout;
mod completions;
mod days;
mod drawings;
mod edit;
mod exit;
mod fieldsheet;
mod format;
mod hold;
mod live;
mod load;
mod manual;
mod many;
mod map;
mod new;
mod order;
mod packet;
mod phone;
mod photos;
mod picture;
mod place;
mod price;
mod proposal;
mod quick;
mod schema;
mod shop;
mod takeoff;
mod terminal;

pub use exit::Exit;

use crate::cli::{Cli, Command};

/// Does what the command line says.
#[must_use]
pub fn run(cli: &Cli) -> Exit {
    match &cli.command {
        Command::Check(args) => check::check(args),
        Command::Takeoff(args) => takeoff::takeoff(args),
        Command::Order(args) => order::order(args),
        Command::Days(args) => days::days(args),
        Command::Price(args) => price::price(args),
        Command::Quick(args) => quick::quick(args),
        Command::Change(args) => change::change(args),
        Command::Closeout(args) => closeout::closeout(args),
        Command::Proposal(args) => proposal::proposal(args),
        Command::Packet(args) => packet::packet(args),
        Command::Map(args) => map::map(args),
        Command::Fieldsheet(args) => fieldsheet::fieldsheet(args),
        Command::Audit(args) => audit::audit(args),
        Command::Live(args) => live::live(args),
        Command::Phone(args) => phone::phone(args),
        Command::Shop(args) => shop::shop(args),
        Command::Schema(args) => schema::schema(args),
        Command::Completions(args) => completions::completions(args),
        Command::New(args) => new::new(args),
        Command::Edit(args) => edit::edit(args),
        Command::Format(args) => format::format(args),
        Command::Manual => manual::manual(),
    }
}
