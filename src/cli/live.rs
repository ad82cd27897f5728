//! `live` on the command line.

use std::net::IpAddr;
use std::path::PathBuf;

use clap::Args;

use super::Reading;

/// `live`.
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub struct LiveArgs {
    /// The sketch.
    #[arg(value_name = "SKETCH")]
    pub sketch: PathBuf,
    /// Address of this machine to listen on, for a phone on the same network; left out, only this machine.
    #[arg(long, value_name = "ADDR")]
    pub listen: Option<IpAddr>,
    /// Port to listen on; 0 takes a free one.
    #[arg(long, value_name = "PORT", default_value_t = 8040)]
    pub port: u16,
    /// How the sketch is read.
    #[command(flatten)]
    pub reading: Reading,
}

const EXAMPLES: &str = "\
Examples:
  slabwalk live garage.yaml                         on this machine
  slabwalk live garage.yaml --listen 192.168.1.20   for a phone or tablet
  slabwalk live garage.yaml --listen 0.0.0.0        on every address

The address to open is printed; it holds a token that is new each time. Ctrl-C
ends it.";
