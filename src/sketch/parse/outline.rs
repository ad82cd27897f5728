//! The outline: a path of corners, or a walk.

use super::Pass;
use super::path::Use;
use crate::form::Fields;
use crate::quantity::Length;
use crate::quantity::read::{self, WalkEntry};
use crate::record::limits::{COORDINATE, SIZE};
use crate::sketch::{At, Bend, Hand, Outline, Run};
use crate::yaml::Node;

impl Pass<'_> {
    /// Reads the outline, and remembers how many corners it has.
    pub(super) fn outline(&mut self, slab: &Fields) -> Option<At<Outline>> {
        let example = "outline: [[0, 0], [24', 0], [24', 20'], [0, 20']], or a walk";
        let node = self.reader.required(slab, "outline", example)?;
        let value = if node.items().is_some() {
            Outline::Path(self.path(node, "the outline", Use::Outline)?)
        } else if node.entries().is_some() {
            self.walk(node)?
        } else {
            let hint =
                "write a list of corners, or {start: [0, 0], walk: [E 24', N 20', W 24', S 20']}";
            self.reader.wrong_type(node, "`outline`", "a list of corners or a walk", hint);
            return None;
        };
        self.corners = Some(value.corners());
        Some(At { value, span: node.place.span })
    }

    fn walk(&mut self, node: &Node) -> Option<Outline> {
        let fields = self.reader.fields(node, "a walk", &["start", "walk"])?;
        let start = match fields.get("start") {
            Some(node) => self.start(node),
            None => Some((Length::default(), Length::default())),
        };
        let walk = self.reader.required(&fields, "walk", "walk: [E 24', N 20', W 24', S 20']")?;
        let entries = self.reader.list(Some(walk), "walk");
        let runs = self.runs(entries);
        let corners = entries.len();
        if corners < 3 && walk.items().is_some() {
            let message = format!("the walk has {corners} runs, and an area needs at least three");
            let hint = "write walk: [E 24', N 20', W 24', S 20']";
            self.reader.error("corners", walk.place, message, hint);
            return None;
        }
        let (start, (runs, close)) = (start?, runs?);
        Some(Outline::Walk { start, runs, close })
    }

    /// The runs of a walk, and whether it ends with `close`.
    fn runs(&mut self, entries: &[Node]) -> Option<(Vec<At<Run>>, bool)> {
        let mut runs = Vec::with_capacity(entries.len());
        let mut close = false;
        let mut complete = true;
        let mut heading = None;
        for (index, entry) in entries.iter().enumerate() {
            match self.walk_entry(entry) {
                Some(WalkEntry::Close) if index + 1 == entries.len() => close = true,
                Some(WalkEntry::Close) => {
                    let message = "`close` ends a walk, and more runs follow it".into();
                    let hint = "put it last, or take it out";
                    self.reader.error("walk", entry.place, message, hint);
                    complete = false;
                }
                Some(run) => match self.run(&run, entry, &mut heading) {
                    Some(run) => runs.push(run),
                    None => complete = false,
                },
                None => complete = false,
            }
        }
        complete.then_some((runs, close))
    }

    fn run(
        &mut self,
        entry: &WalkEntry,
        node: &Node,
        heading: &mut Option<f64>,
    ) -> Option<At<Run>> {
        let Some((direction_deg, length)) = entry.chord(heading) else {
            let message = "this arc has no direction, and no run before it gives one".into();
            let hint = "name the direction of its chord: arc E 12' R 8' left";
            self.reader.error("walk", node.place, message, hint);
            return None;
        };
        let bend = match *entry {
            WalkEntry::Arc { rise, left, .. } => {
                Some(Bend { rise, to: if left { Hand::Left } else { Hand::Right } })
            }
            _ => None,
        };
        Some(At { value: Run { direction_deg, length, bend }, span: node.place.span })
    }

    fn start(&mut self, node: &Node) -> Option<(Length, Length)> {
        let [x, y] = node.items().unwrap_or_default() else {
            let hint = "write start: [0, 0]";
            self.reader.wrong_type(node, "`start`", "two coordinates", hint);
            return None;
        };
        let x = self.reader.length(x, &COORDINATE);
        let y = self.reader.length(y, &COORDINATE);
        Some((x?.value, y?.value))
    }

    fn walk_entry(&mut self, node: &Node) -> Option<WalkEntry> {
        let units = self.reader.units;
        let read = |text: &str| read::walk_entry(text, units);
        let entry = self.reader.quantity(node, "the entry", "a run of a walk", read)?.value;
        let lengths = match entry {
            WalkEntry::Run { length, .. } => vec![(length, "the run")],
            WalkEntry::Arc { chord, rise, .. } => {
                vec![(chord, "the chord of the arc"), (rise, "the rise of the arc")]
            }
            WalkEntry::Close => Vec::new(),
        };
        for (length, name) in lengths {
            self.reader.within(node, &SIZE.called(name), length)?;
        }
        Some(entry)
    }
}

impl Outline {
    /// How many corners it has, and so how many walls. A walk without `close` comes back to its start
    /// with its last run; with it, the way back is one run more.
    #[must_use]
    pub fn corners(&self) -> usize {
        match self {
            Self::Path(path) => path.corners(),
            Self::Walk { runs, close, .. } => runs.len() + usize::from(*close),
        }
    }
}
