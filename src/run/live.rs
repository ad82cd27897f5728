//! `slabwalk live`: a page that shows the floor while its sketch is written.

mod connection;
mod file;
mod serve;

use std::net::{IpAddr, Ipv4Addr, SocketAddr, TcpListener, UdpSocket};
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use super::{Exit, terminal};
use crate::cli::LiveArgs;
use crate::live::guard::Guard;
use file::Paper;
use serve::Server;

pub(super) fn live(args: &LiveArgs) -> Exit {
    let paper = match Paper::open(&args.sketch, args.reading.shop.as_deref()) {
        Ok(paper) => paper,
        Err(error) => {
            let name = args.sketch.display();
            return fail(&format!("the sketch {name} can't be read: {error}"));
        }
    };
    let ip = args.listen.unwrap_or(IpAddr::V4(Ipv4Addr::LOCALHOST));
    let bound = TcpListener::bind((ip, args.port)).and_then(|l| Ok((l.local_addr()?, l)));
    let (address, listener) = match bound {
        Ok(bound) => bound,
        Err(error) => {
            return fail(&format!(
                "port {} of {ip} can't be listened on: {error}\nhint: --port 0 takes a free one",
                args.port
            ));
        }
    };
    let Ok(token) = token() else {
        return fail("the system gives no random numbers, so there is no safe address");
    };
    let stop = match stop_flag() {
        Ok(stop) => stop,
        Err(error) => return fail(&format!("Ctrl-C can't be caught: {error}")),
    };
    let said = terminal::data(&format!("{}\n", printed(address, &token)));
    if said != Exit::Done {
        return said;
    }
    terminal::message(&hint(address));
    let server = Server::new(paper, Guard::new(&token, address), stop);
    match Arc::new(server).run(&listener) {
        Ok(()) => Exit::Done,
        Err(error) => fail(&format!("the page can't be served: {error}")),
    }
}

fn fail(message: &str) -> Exit {
    terminal::message(&format!("error: {message}\n"));
    Exit::File
}

/// 128 random bits, in hexadecimal.
fn token() -> Result<String, getrandom::Error> {
    let mut bytes = [0_u8; 16];
    getrandom::fill(&mut bytes)?;
    Ok(bytes.iter().map(|byte| format!("{byte:02x}")).collect())
}

/// Set once the program is told to end.
fn stop_flag() -> std::io::Result<Arc<AtomicBool>> {
    use signal_hook::consts::{SIGINT, SIGTERM};
    let stop = Arc::new(AtomicBool::new(false));
    for signal in [SIGINT, SIGTERM] {
        // A second Ctrl-C ends the program at once, should the first find it stuck.
        signal_hook::flag::register_conditional_shutdown(signal, 1, Arc::clone(&stop))?;
        signal_hook::flag::register(signal, Arc::clone(&stop))?;
    }
    Ok(stop)
}

/// The address to open. Where every address of the machine is listened on, the one that leads out of it.
fn printed(address: SocketAddr, token: &str) -> String {
    let ip = if address.ip().is_unspecified() {
        outward(address).unwrap_or_else(|| address.ip())
    } else {
        address.ip()
    };
    format!("http://{}/{token}/", SocketAddr::new(ip, address.port()))
}

/// The machine's own address on its network. A datagram socket is only given a target; nothing is sent.
fn outward(address: SocketAddr) -> Option<IpAddr> {
    // Addresses kept for documentation, so that nobody is meant.
    let (any, far) = if address.is_ipv4() {
        ("0.0.0.0:0", "192.0.2.1:9")
    } else {
        ("[::]:0", "[2001:db8::1]:9")
    };
    let socket = UdpSocket::bind(any).ok()?;
    socket.connect(far).ok()?;
    socket.local_addr().ok().map(|own| own.ip())
}

fn hint(address: SocketAddr) -> String {
    let open = if address.ip().is_loopback() {
        "Open this address in a browser on this machine"
    } else {
        "Open this address in a browser on the same network. Whoever has it can read the sketch and add to it, and it is not encrypted: use a network you trust"
    };
    format!("{open}. Ctrl-C ends it.\n")
}
