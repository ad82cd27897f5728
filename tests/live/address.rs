//! Where a program that was started says it serves.

use std::io::{BufRead, BufReader};
use std::process::Child;

/// Host with port, and token, from the first line that it prints.
pub fn of(child: &mut Child) -> (String, String) {
    let mut line = String::new();
    let out = child.stdout.take().expect("its output");
    BufReader::new(out).read_line(&mut line).expect("the address");
    let address = line.trim().strip_prefix("http://").expect("an address");
    let (host, token) = address.trim_end_matches('/').split_once('/').expect("a token");
    (host.into(), token.into())
}
