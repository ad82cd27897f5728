//! The program with its memory bounded, and what every answer has to be like.

use std::io::Read;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

/// Memory that a run may take, KiB: the largest file that is read, 64 MiB, some times over.
const MOST_KIB: u64 = 1 << 20;
/// Nothing takes this long; it keeps a run that hangs from hanging the tests.
const LONGEST: Duration = Duration::from_secs(180);

/// What the program said: its exit code, standard output, standard error.
pub struct Said {
    pub code: i32,
    pub out: Vec<u8>,
    pub messages: String,
}

impl Said {
    /// Fails unless the answer has this exit code and its messages hold all of these words.
    #[track_caller]
    pub fn is(&self, code: i32, words: &[&str]) -> &Self {
        assert_eq!(self.code, code, "{}", self.messages);
        // Messages are folded to the width of a terminal.
        let said: Vec<&str> = self.messages.split_whitespace().collect();
        let said = said.join(" ");
        for word in words {
            assert!(said.contains(word), "no `{word}` in: {}", self.messages);
        }
        self
    }

    /// Standard output as text.
    pub fn text(&self) -> String {
        String::from_utf8(self.out.clone()).expect("text")
    }
}

/// Runs the program in a folder, with bounded memory.
#[track_caller]
pub fn run(folder: &Path, arguments: &[&str]) -> Said {
    fed(folder, arguments, Stdio::null(), Stdio::piped())
}

/// The same with standard input and output of somebody's choice.
#[track_caller]
pub fn fed(folder: &Path, arguments: &[&str], input: Stdio, output: Stdio) -> Said {
    let mut command = if cfg!(target_os = "linux") {
        let mut shell = Command::new("sh");
        shell.args(["-c", &format!("ulimit -v {MOST_KIB}; exec \"$@\""), "sh"]);
        shell.arg(env!("CARGO_BIN_EXE_slabwalk"));
        shell
    } else {
        Command::new(env!("CARGO_BIN_EXE_slabwalk"))
    };
    command.args(arguments).current_dir(folder);
    command.env_remove("RUST_BACKTRACE");
    let mut child = command
        .stdin(input)
        .stdout(output)
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program runs");
    let out = read(child.stdout.take());
    let err = read(child.stderr.take());
    let start = Instant::now();
    let status = loop {
        if let Some(status) = child.try_wait().expect("a child") {
            break status;
        }
        if start.elapsed() > LONGEST {
            child.kill().expect("it ends");
            panic!("{arguments:?} hangs");
        }
        std::thread::sleep(Duration::from_millis(5));
    };
    let messages = String::from_utf8(err.join().expect("a thread")).expect("messages are text");
    let said =
        Said { code: status.code().unwrap_or(-1), out: out.join().expect("a thread"), messages };
    assert!(!said.messages.contains("panicked"), "{arguments:?}: {}", said.messages);
    assert!(
        (0..=3).contains(&said.code),
        "{arguments:?} ended with {}: {}",
        said.code,
        said.messages
    );
    let moves = said.messages.chars().find(|c| moves(*c) && *c != '\n');
    assert_eq!(moves, None, "{arguments:?}: {:?}", said.messages);
    said
}

/// Reads all of a stream, on a thread of its own so that no pipe runs full.
fn read<R: Read + Send + 'static>(stream: Option<R>) -> std::thread::JoinHandle<Vec<u8>> {
    std::thread::spawn(move || {
        let mut out = Vec::new();
        if let Some(mut stream) = stream {
            stream.read_to_end(&mut out).expect("a stream");
        }
        out
    })
}

/// Whether a character would move the cursor of a terminal, or turn the text behind it round.
pub fn moves(c: char) -> bool {
    c.is_control()
        || matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{2028}' | '\u{2029}')
}

/// A folder for a test.
pub fn folder() -> tempfile::TempDir {
    tempfile::tempdir().expect("a folder")
}

/// A folder with a sketch in it.
pub fn with(sketch: impl AsRef<[u8]>) -> tempfile::TempDir {
    let folder = folder();
    std::fs::write(folder.path().join("floor.yaml"), sketch).expect("a sketch is written");
    folder
}

/// Checks a sketch.
#[track_caller]
pub fn check(sketch: impl AsRef<[u8]>) -> Said {
    run(with(sketch).path(), &["check", "floor.yaml"])
}

/// A slab of 24 by 22 ft without anything on it.
pub const SLAB: &str = "slabwalk: 1\njob: {name: shed}\nslab: {post_tension: none, outline: [[0, 0], [24', 0], [24', 22'], [0, 22']]}\n";

/// Every name below a folder, in order.
pub fn names(folder: &Path) -> Vec<String> {
    let mut out = Vec::new();
    let mut left = vec![folder.to_owned()];
    while let Some(next) = left.pop() {
        for entry in std::fs::read_dir(&next).expect("a folder").flatten() {
            let path = entry.path();
            out.push(path.strip_prefix(folder).expect("inside").display().to_string());
            if path.is_dir() && !path.is_symlink() {
                left.push(path);
            }
        }
    }
    out.sort();
    out
}
