//! Who may ask: the token in the address, the host it was asked under, the page it was asked from.

use std::net::{IpAddr, SocketAddr};

use sha2::{Digest, Sha256};

use super::http::{Head, PHOTO, Response};

/// Checks requests.
#[derive(Clone, Debug)]
pub struct Guard {
    token: [u8; 32],
    address: SocketAddr,
}

impl Guard {
    /// For a token and the address that is listened on.
    #[must_use]
    pub fn new(token: &str, address: SocketAddr) -> Self {
        Self { token: Sha256::digest(token.as_bytes()).into(), address }
    }

    /// The path behind the token, such as `/api/state`.
    ///
    /// # Errors
    ///
    /// The answer to a request that must not be served.
    pub fn admit<'h>(&self, head: &'h Head) -> Result<&'h str, Response> {
        if !self.knows_host(&head.host) {
            return Err(Response::refused(
                421,
                "open the page at the address that the program printed, with its numbers",
                "",
            ));
        }
        let rest = head.path.strip_prefix('/').unwrap_or_default();
        let (token, path) = match rest.find('/') {
            Some(slash) => rest.split_at(slash),
            None => (rest, ""),
        };
        if !self.is_token(token) {
            return Err(Response::refused(
                403,
                "the address lacks the token, or the program was started again: open the address that it prints",
                "",
            ));
        }
        if head.method == "POST" {
            self.admit_write(head, path)?;
        }
        Ok(path)
    }

    /// A write comes from the page itself: another site can make a browser send a request, but not
    /// under this page's origin.
    fn admit_write(&self, head: &Head, path: &str) -> Result<(), Response> {
        let own = format!("http://{}", head.host);
        if head.origin.as_deref() != Some(own.as_str()) {
            return Err(Response::refused(403, "records are taken from the page itself only", ""));
        }
        let (wanted, words) = if path == "/api/photo" {
            (PHOTO, "a photo is sent as JPEG")
        } else {
            ("application/json", "a record is sent as JSON")
        };
        if head.content_type != wanted {
            return Err(Response::refused(415, words, ""));
        }
        Ok(())
    }

    /// Digests are compared, all bytes of them, so that the time taken says nothing about the token.
    fn is_token(&self, token: &str) -> bool {
        let given: [u8; 32] = Sha256::digest(token.as_bytes()).into();
        let differ = given.iter().zip(&self.token).fold(0_u8, |differ, (a, b)| differ | (a ^ b));
        std::hint::black_box(differ) == 0
    }

    /// A name can be made to lead here by whoever owns it; numbers can't. So only the numbers that
    /// are listened on count, and `localhost`, which never leaves the machine.
    fn knows_host(&self, host: &str) -> bool {
        let port = self.address.port();
        let Some(name) = host.strip_suffix(&format!(":{port}")).or((port == 80).then_some(host))
        else {
            return false;
        };
        let own = self.address.ip();
        if name == "localhost" {
            return own.is_loopback();
        }
        let bare = name.strip_prefix('[').and_then(|n| n.strip_suffix(']'));
        let address: Option<IpAddr> = match bare {
            Some(v6) => v6.parse().ok().filter(IpAddr::is_ipv6),
            None => name.parse().ok().filter(IpAddr::is_ipv4),
        };
        address.is_some_and(|a| a == own || own.is_unspecified())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn head(method: &str, path: &str, host: &str, origin: Option<&str>) -> Head {
        Head {
            method: method.into(),
            path: path.into(),
            host: host.into(),
            origin: origin.map(Into::into),
            content_type: "application/json".into(),
            ..Head::default()
        }
    }

    #[test]
    fn token_host_and_origin() {
        const OWN: &str = "127.0.0.1:8040";
        let guard = Guard::new("secret", "127.0.0.1:8040".parse().expect("an address"));
        let page = Some("http://127.0.0.1:8040");
        let rows = [
            ("page", head("GET", "/secret/", OWN, None), Ok("/")),
            (
                "by its other name",
                head("GET", "/secret/api/state", "localhost:8040", None),
                Ok("/api/state"),
            ),
            ("no token", head("GET", "/", OWN, None), Err(403)),
            ("wrong token", head("GET", "/secres/", OWN, None), Err(403)),
            ("token cut short", head("GET", "/secre/", OWN, None), Err(403)),
            (
                "another name for this address",
                head("GET", "/secret/", "floor.example:8040", None),
                Err(421),
            ),
            ("another port", head("GET", "/secret/", "127.0.0.1:80", None), Err(421)),
            ("another address", head("GET", "/secret/", "10.0.0.1:8040", None), Err(421)),
            (
                "a write from the page",
                head("POST", "/secret/api/record", OWN, page),
                Ok("/api/record"),
            ),
            ("a write from nowhere", head("POST", "/secret/api/record", OWN, None), Err(403)),
            (
                "a write from elsewhere",
                head("POST", "/secret/api/record", OWN, Some("http://evil.example")),
                Err(403),
            ),
            (
                "a write without origin to tell",
                head("POST", "/secret/api/record", OWN, Some("null")),
                Err(403),
            ),
            ("a write without token", head("POST", "/api/record", OWN, page), Err(403)),
        ];
        for (name, head, wanted) in rows {
            let found = guard.admit(&head).map_err(|r| r.status);
            assert_eq!(found, wanted, "{name}");
        }
        let mut form = head("POST", "/secret/api/record", OWN, page);
        form.content_type = "text/plain".into();
        assert_eq!(guard.admit(&form).map_err(|r| r.status), Err(415));
    }

    #[test]
    fn everywhere_means_every_number_but_no_name() {
        let guard = Guard::new("t", "0.0.0.0:9000".parse().expect("an address"));
        let rows = [
            ("192.168.1.20:9000", true),
            ("[fe80::1]:9000", true),
            ("localhost:9000", false),
            ("shop.example:9000", false),
            ("192.168.1.20", false),
            ("::1:9000", false),
        ];
        for (host, known) in rows {
            assert_eq!(guard.knows_host(host), known, "{host}");
        }
    }
}
