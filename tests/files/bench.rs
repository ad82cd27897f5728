//! What the tests share: folders with old files in them, the command that writes over them, and how its end is judged.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::process::{Command, Output};
use std::sync::OnceLock;

/// Every file below a folder by its path, hidden ones too; a folder that holds nothing is there with a slash.
pub type Tree = BTreeMap<String, Vec<u8>>;

pub const BIN: &str = env!("CARGO_BIN_EXE_slabwalk");

/// A floor with one joint and a crack to so many feet from its lower wall.
pub fn sketch(feet: u32) -> String {
    format!(
        "slabwalk: 1\njob: {{name: Small garage}}\nslab:\n  outline: {{start: [0, 0], walk: [E 20', N 20', W 20', S 20']}}\n\
         joints: [{{id: J1, kind: control, x: 10, formed: sawn}}]\ncracks: [{{id: C1, path: [[2, 2], [2, {feet}]], width: 1/16, movement: dormant}}]\n\
         used: {{hours: {{grind the floor: {feet} h}}}}\n"
    )
}

pub fn tree(folder: &Path) -> Tree {
    let mut out = Tree::new();
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        let name = entry.file_name().to_string_lossy().into_owned();
        if entry.file_type().is_ok_and(|t| t.is_dir()) {
            let below = tree(&entry.path());
            if below.is_empty() {
                out.insert(format!("{name}/"), Vec::new());
            }
            out.extend(below.into_iter().map(|(n, b)| (format!("{name}/{n}"), b)));
        } else {
            out.insert(name, fs::read(entry.path()).unwrap_or_default());
        }
    }
    out
}

/// Writes a tree into a folder that is there.
pub fn plant(tree: &Tree, folder: &Path) {
    for (name, bytes) in tree {
        let path = folder.join(name);
        fs::create_dir_all(path.parent().expect("a folder")).expect("made");
        fs::write(path, bytes).expect("written");
    }
}

/// What lies below one folder of a tree.
pub fn below(tree: &Tree, folder: &str) -> Tree {
    let start = format!("{folder}/");
    let inside =
        |(n, b): (&String, &Vec<u8>)| Some((n.strip_prefix(&start)?.to_owned(), b.clone()));
    tree.iter().filter_map(inside).collect()
}

/// What no run leaves where it was not killed: names that begin with a dot.
pub fn hidden(tree: &Tree) -> Vec<&String> {
    let dotted = |name: &&String| name.split('/').any(|part| part.starts_with('.'));
    tree.keys().filter(dotted).collect()
}

pub fn run(arguments: &[&str], at: &Path) -> Output {
    command(BIN, arguments, at).output().expect("the program runs")
}

pub fn command(program: &str, arguments: &[&str], at: &Path) -> Command {
    let mut command = Command::new(program);
    command.args(arguments).current_dir(at).env("NO_COLOR", "1");
    command
}

/// What a run said on standard error.
pub fn said(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

/// Something that writes: a folder before and after it, made once.
pub struct Job {
    pub name: &'static str,
    pub arguments: Vec<&'static str>,
    /// The folder that is exchanged as a whole; none where files are replaced one by one.
    pub folder: Option<&'static str>,
    pub before: Tree,
    pub after: Tree,
}

impl Job {
    /// `old` makes the files that the job then writes over; `moved` are the files that are different for it.
    fn new(
        name: &'static str,
        arguments: &[&'static str],
        folder: Option<&'static str>,
        old: &[&str],
    ) -> Self {
        let dir = tempfile::tempdir().expect("a folder");
        let put = |name: &str, text: &str| fs::write(dir.path().join(name), text).expect("written");
        put("floor.yaml", &sketch(10));
        put("agreed.yaml", &sketch(8));
        if !old.is_empty() {
            let output = run(old, dir.path());
            assert!(output.status.success(), "{name}: {}", said(&output));
        }
        if let Some(folder) = folder {
            put(&format!("{folder}/notes.txt"), "call first");
            fs::create_dir(dir.path().join(folder).join("pictures")).expect("made");
            put(&format!("{folder}/pictures/door.txt"), "a picture");
        }
        put("floor.yaml", &sketch(13));
        let before = tree(dir.path());
        let output = run(arguments, dir.path());
        assert!(output.status.success(), "{name}: {}", said(&output));
        let after = tree(dir.path());
        assert!(before != after, "{name} writes something");
        assert!(hidden(&after).is_empty(), "{name}: {:?}", hidden(&after));
        Self { name, arguments: arguments.to_vec(), folder, before, after }
    }

    /// A new folder as it is before the job.
    pub fn planted(&self) -> tempfile::TempDir {
        let dir = tempfile::tempdir().expect("a folder");
        plant(&self.before, dir.path());
        dir
    }

    /// Fails unless everything is the old or the new, whole; hidden names are let pass. What others put into the folder that is
    /// exchanged may wait in a hidden one.
    #[track_caller]
    pub fn is_whole(&self, found: &Tree, when: &str) {
        let name = self.name;
        let seen: Tree = found
            .iter()
            .filter(|(n, _)| !n.split('/').any(|part| part.starts_with('.')))
            .map(|(n, b)| (n.clone(), b.clone()))
            .collect();
        if let Some(folder) = self.folder {
            let own = |t: &Tree| {
                let mut own = below(t, folder);
                own.retain(|n, _| n != "notes.txt" && !n.starts_with("pictures/"));
                own
            };
            let now = own(&seen);
            let whole = now == own(&self.before) || now == own(&self.after);
            assert!(whole, "{name}, {when}: {:?}", now.keys());
            for other in ["notes.txt", "pictures/door.txt"] {
                let kept = found.iter().any(|(n, b)| {
                    n.ends_with(other) && Some(b) == self.before.get(&format!("{folder}/{other}"))
                });
                assert!(kept, "{name}, {when}: {other} is lost");
            }
        }
        let inside = |n: &str| self.folder.is_some_and(|f| n.starts_with(&format!("{f}/")));
        for (file, bytes) in seen.iter().filter(|(n, _)| !inside(n)) {
            let whole = [&self.before, &self.after].iter().any(|t| t.get(file) == Some(bytes));
            assert!(whole, "{name}, {when}: {file} is neither the old nor the new");
        }
        for file in self.before.keys().filter(|n| !inside(n)) {
            assert!(seen.contains_key(file), "{name}, {when}: {file} is gone");
        }
    }

    /// Runs the job again, undisturbed: everything is as if nothing had happened. Where nothing has, that is not tried.
    #[track_caller]
    pub fn recovers(&self, at: &Path, when: &str) {
        let found = tree(at);
        if found == self.before || found == self.after {
            return;
        }
        let output = run(&self.arguments, at);
        let name = self.name;
        // `new` writes over nothing, also not over what it wrote itself.
        let there = name == "new" && said(&output).contains("is there already");
        assert!(output.status.success() || there, "{name}, {when}: {}", said(&output));
        let found = tree(at);
        assert!(found == self.after, "{name}, {when}: {:?}", found.keys());
    }
}

/// A packet.
pub fn packet() -> &'static Job {
    static JOB: OnceLock<Job> = OnceLock::new();
    let arguments = ["packet", "floor.yaml"];
    JOB.get_or_init(|| Job::new("packet", &arguments, Some("out/floor"), &arguments))
}

/// A change order: a folder as a packet is, and soon made.
pub fn change() -> &'static Job {
    static JOB: OnceLock<Job> = OnceLock::new();
    let arguments = ["change", "agreed.yaml", "floor.yaml", "--out", "jobs/change"];
    JOB.get_or_init(|| Job::new("change", &arguments, Some("jobs/change"), &arguments))
}

/// All other commands that write.
pub fn others() -> &'static [Job] {
    static JOBS: OnceLock<Vec<Job>> = OnceLock::new();
    JOBS.get_or_init(made)
}

fn made() -> Vec<Job> {
    let closeout = ["closeout", "floor.yaml", "--out", "closed"];
    let map = ["map", "floor.yaml", "--out", "map.svg"];
    let proposal = ["proposal", "floor.yaml", "--out", "proposal.html"];
    let small = ["fieldsheet", "--size", "9' x 9'", "--out", "sheet.svg"];
    let large = ["fieldsheet", "--size", "24' x 22'", "--out", "sheet.svg"];
    vec![
        Job::new("closeout", &closeout, Some("closed"), &closeout),
        Job::new("map", &map, None, &map),
        Job::new("proposal", &proposal, None, &proposal),
        Job::new("fieldsheet", &large, None, &small),
        Job::new("format", &["format", "floor.yaml"], None, &[]),
        Job::new("new", &["new", "shed", "--size", "24'", "22'"], None, &[]),
    ]
}
