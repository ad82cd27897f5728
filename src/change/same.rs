//! Whether two sketches are of one job.

use crate::sketch::Job;

/// What says that two sketches are of different jobs; empty where they are of one. Names must be the
/// same; numbers and sites where both sketches give them.
#[must_use]
pub fn different_jobs(old: &Job, new: &Job) -> Vec<String> {
    let mut found = Vec::new();
    if plain(&old.name) != plain(&new.name) {
        found.push(format!("the names are `{}` and `{}`", old.name, new.name));
    }
    let pairs = [("job numbers", &old.number, &new.number), ("sites", &old.site, &new.site)];
    for (what, old, new) in pairs {
        if let (Some(old), Some(new)) = (old, new)
            && plain(old) != plain(new)
        {
            found.push(format!("the {what} are `{old}` and `{new}`"));
        }
    }
    found
}

/// Without case and double blanks, which nobody means.
fn plain(text: &str) -> String {
    let words: Vec<&str> = text.split_whitespace().collect();
    words.join(" ").to_lowercase()
}
