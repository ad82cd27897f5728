//! HTTP/1.1 as far as the page needs it: one request a connection, bodies with a length, and limits on everything.

/// Largest head of a request, bytes.
pub const LARGEST_HEAD: usize = 16 << 10;
/// Most header lines.
const MOST_HEADERS: usize = 64;
/// Largest body, bytes: a record of two hundred points has about ten thousand.
pub const LARGEST_BODY: usize = 64 << 10;
/// Largest photo, bytes: the page sends it with 1,600 pixels on its longer side, seldom more than one MiB.
pub const LARGEST_PHOTO: usize = 4 << 20;
/// What a photo is sent as.
pub const PHOTO: &str = "image/jpeg";

/// The head of a request.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Head {
    /// `GET`, `POST`.
    pub method: String,
    /// Path as sent, without the query. Nothing in it is decoded: no address of the page needs it.
    pub path: String,
    /// Keys and values of the query, decoded.
    pub query: Vec<(String, String)>,
    /// `Host`.
    pub host: String,
    /// `Origin`, if sent.
    pub origin: Option<String>,
    /// `Content-Type`, without parameters.
    pub content_type: String,
    /// `Content-Length`; 0 where nothing is said.
    pub length: usize,
}

impl Head {
    /// A request that came by no wire: a method, and a path with its query.
    #[must_use]
    pub fn of(method: &str, target: &str) -> Self {
        let (path, query) = target.split_once('?').unwrap_or((target, ""));
        Self {
            method: method.to_owned(),
            path: path.to_owned(),
            query: pairs(query),
            ..Self::default()
        }
    }

    /// A value of the query; empty where it is missing.
    #[must_use]
    pub fn value(&self, key: &str) -> &str {
        let found = self.query.iter().find(|(k, _)| k == key);
        found.map_or("", |(_, v)| v.as_str())
    }
}

/// An answer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Response {
    /// Status.
    pub status: u16,
    /// `Content-Type`.
    pub content_type: &'static str,
    /// Body.
    pub body: Vec<u8>,
}

/// Headers of every answer: nothing is kept, nothing is run, framed or fetched from elsewhere, and the
/// address with its token is told to nobody.
const GUARDS: &str = "Cache-Control: no-store\r\n\
    Content-Security-Policy: default-src 'none'; script-src 'self'; style-src 'self'; font-src 'self'; img-src 'self'; connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'\r\n\
    Cross-Origin-Opener-Policy: same-origin\r\n\
    Cross-Origin-Resource-Policy: same-origin\r\n\
    Referrer-Policy: no-referrer\r\n\
    X-Content-Type-Options: nosniff\r\n\
    X-Frame-Options: DENY\r\n\
    Connection: close\r\n";

impl Response {
    /// A body of a type.
    #[must_use]
    pub fn new(status: u16, content_type: &'static str, body: impl Into<Vec<u8>>) -> Self {
        Self { status, content_type, body: body.into() }
    }

    /// JSON.
    #[must_use]
    pub fn json(status: u16, body: impl Into<Vec<u8>>) -> Self {
        Self::new(status, "application/json", body)
    }

    /// A refusal in words, as JSON: `{"message": …, "field": …}`.
    #[must_use]
    pub fn refused(status: u16, message: &str, field: &str) -> Self {
        let body = serde_json::json!({"message": message, "field": field});
        Self::json(status, body.to_string())
    }

    /// The bytes that go over the wire.
    #[must_use]
    pub fn bytes(&self) -> Vec<u8> {
        let head = format!(
            "HTTP/1.1 {} {}\r\nContent-Type: {}\r\nContent-Length: {}\r\n{GUARDS}\r\n",
            self.status,
            reason(self.status),
            self.content_type,
            self.body.len()
        );
        let mut out = head.into_bytes();
        out.extend_from_slice(&self.body);
        out
    }
}

/// The head of an answer that goes on: events.
#[must_use]
pub fn event_head() -> String {
    format!("HTTP/1.1 200 OK\r\nContent-Type: text/event-stream\r\n{GUARDS}\r\n")
}

const fn reason(status: u16) -> &'static str {
    match status {
        200 => "OK",
        400 => "Bad Request",
        403 => "Forbidden",
        404 => "Not Found",
        405 => "Method Not Allowed",
        408 => "Request Timeout",
        409 => "Conflict",
        411 => "Length Required",
        413 => "Content Too Large",
        415 => "Unsupported Media Type",
        421 => "Misdirected Request",
        422 => "Unprocessable Content",
        431 => "Request Header Fields Too Large",
        503 => "Service Unavailable",
        _ => "Error",
    }
}

/// Reads a head. `Ok(None)` while it isn't complete; otherwise the head and its length in bytes.
///
/// # Errors
///
/// The answer to give.
pub fn head(bytes: &[u8]) -> Result<Option<(Head, usize)>, Response> {
    let mut lines = [httparse::EMPTY_HEADER; MOST_HEADERS];
    let mut request = httparse::Request::new(&mut lines);
    let long = || Response::refused(431, "the head of the request is too large", "");
    let length = match request.parse(bytes) {
        Ok(httparse::Status::Complete(length)) if length <= LARGEST_HEAD => length,
        Ok(httparse::Status::Partial) if bytes.len() <= LARGEST_HEAD => return Ok(None),
        Ok(_) | Err(httparse::Error::TooManyHeaders) => return Err(long()),
        Err(_) => return Err(bad("this is no HTTP request")),
    };
    let method = request.method.unwrap_or_default();
    let mut head = Head::of(method, request.path.unwrap_or_default());
    fields(request.headers, &mut head)?;
    Ok(Some((head, length)))
}

/// Takes from the header lines what counts.
fn fields(lines: &[httparse::Header], head: &mut Head) -> Result<(), Response> {
    let mut hosts = 0;
    let mut lengths = 0;
    for line in lines {
        let value = std::str::from_utf8(line.value).map_err(|_| bad("a header is not text"))?;
        let value = value.trim();
        match line.name.to_ascii_lowercase().as_str() {
            "host" => {
                hosts += 1;
                head.host = value.to_ascii_lowercase();
            }
            "origin" => head.origin = Some(value.to_ascii_lowercase()),
            "content-type" => {
                let kind = value.split(';').next().unwrap_or_default();
                head.content_type = kind.trim().to_ascii_lowercase();
            }
            "content-length" => {
                lengths += 1;
                head.length = body_length(value)?;
            }
            "transfer-encoding" => {
                return Err(Response::refused(411, "a body must say its length", ""));
            }
            _ => {}
        }
    }
    if hosts != 1 || lengths > 1 {
        return Err(bad("a request names one host, and one length at most"));
    }
    let (most, words) = if head.content_type == PHOTO {
        (LARGEST_PHOTO, "the photo is larger than 4 MiB; take it with fewer pixels")
    } else {
        (LARGEST_BODY, "the body is larger than 64 kB; record less at once")
    };
    if head.length > most {
        return Err(Response::refused(413, words, ""));
    }
    Ok(())
}

fn bad(message: &str) -> Response {
    Response::refused(400, message, "")
}

fn body_length(value: &str) -> Result<usize, Response> {
    if value.is_empty() || !value.bytes().all(|b| b.is_ascii_digit()) {
        return Err(bad("the length of the body is no number"));
    }
    Ok(value.parse().unwrap_or(usize::MAX))
}

fn pairs(query: &str) -> Vec<(String, String)> {
    let parts = query.split('&').filter(|part| !part.is_empty());
    parts
        .take(32)
        .map(|part| {
            let (key, value) = part.split_once('=').unwrap_or((part, ""));
            (decoded(key), decoded(value))
        })
        .collect()
}

/// Percent signs and pluses decoded; what is no text then is left out.
fn decoded(text: &str) -> String {
    let mut out = Vec::with_capacity(text.len());
    let bytes = text.as_bytes();
    let mut i = 0;
    while i < bytes.len() {
        let hex = (bytes[i] == b'%')
            .then(|| text.get(i + 1..i + 3))
            .flatten()
            .filter(|h| h.bytes().all(|b| b.is_ascii_hexdigit()))
            .and_then(|h| u8::from_str_radix(h, 16).ok());
        match (hex, bytes[i]) {
            (Some(byte), _) => {
                out.push(byte);
                i += 2;
            }
            (None, b'+') => out.push(b' '),
            (None, byte) => out.push(byte),
        }
        i += 1;
    }
    String::from_utf8(out).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_head_is_read_once_it_is_whole() {
        let text = b"GET /abc/api/place?x=1.5&w=5%27+2%22 HTTP/1.1\r\nHost: 127.0.0.1:80\r\nOrigin: http://A\r\n\r\nrest";
        assert_eq!(head(&text[..20]), Ok(None));
        let (head, length) = head(text).expect("good").expect("whole");
        assert_eq!(&text[length..], b"rest");
        assert_eq!((head.method.as_str(), head.path.as_str()), ("GET", "/abc/api/place"));
        assert_eq!((head.value("x"), head.value("w"), head.value("z")), ("1.5", "5' 2\"", ""));
        assert_eq!(head.origin.as_deref(), Some("http://a"));
    }

    #[test]
    fn what_is_refused() {
        let lines = |n: usize| "A: b\r\n".repeat(n);
        let rows = [
            ("noise", "\u{1}\u{2}\r\n\r\n".to_owned(), 400),
            ("no host", "GET / HTTP/1.1\r\n\r\n".into(), 400),
            ("two hosts", "GET / HTTP/1.1\r\nHost: a\r\nHost: b\r\n\r\n".into(), 400),
            ("too many lines", format!("GET / HTTP/1.1\r\n{}\r\n", lines(80)), 431),
            ("a long head without end", format!("GET /{}", "a".repeat(LARGEST_HEAD)), 431),
            (
                "a large body",
                "POST / HTTP/1.1\r\nHost: a\r\nContent-Length: 65537\r\n\r\n".into(),
                413,
            ),
            (
                "a huge body",
                format!("POST / HTTP/1.1\r\nHost: a\r\nContent-Length: {}\r\n\r\n", "9".repeat(40)),
                413,
            ),
            (
                "a large photo",
                "POST / HTTP/1.1\r\nHost: a\r\nContent-Length: 4194305\r\nContent-Type: image/jpeg\r\n\r\n".into(),
                413,
            ),
            (
                "a negative length",
                "POST / HTTP/1.1\r\nHost: a\r\nContent-Length: -1\r\n\r\n".into(),
                400,
            ),
            (
                "chunks",
                "POST / HTTP/1.1\r\nHost: a\r\nTransfer-Encoding: chunked\r\n\r\n".into(),
                411,
            ),
            (
                "two lengths",
                "POST / HTTP/1.1\r\nHost: a\r\nContent-Length: 1\r\nContent-Length: 2\r\n\r\n"
                    .into(),
                400,
            ),
        ];
        for (name, text, status) in rows {
            let found = head(text.as_bytes()).expect_err(name);
            assert_eq!(found.status, status, "{name}");
        }
    }

    #[test]
    fn every_answer_carries_the_guards() {
        let bytes = Response::new(200, "text/html", "x").bytes();
        let text = String::from_utf8(bytes).expect("text");
        for wanted in [
            "HTTP/1.1 200 OK\r\n",
            "default-src 'none'; script-src 'self'",
            "X-Content-Type-Options: nosniff",
            "Referrer-Policy: no-referrer",
            "Content-Length: 1\r\n",
        ] {
            assert!(text.contains(wanted), "{wanted}");
        }
        assert!(!text.contains("unsafe-inline"));
    }
}
