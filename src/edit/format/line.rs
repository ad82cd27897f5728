//! The lines of the new text, each with its comments, before they get their places.

/// A comment on a line of its own.
#[derive(Clone)]
pub(super) struct Own {
    /// A blank line stands before it.
    pub gap: bool,
    pub text: String,
}

/// A comment behind something.
pub(super) struct Behind {
    /// Where it stood.
    pub column: usize,
    pub text: String,
}

/// What stands behind a key or a dash.
pub(super) enum Value {
    Nothing,
    /// Text of one or more lines; the later lines are set in from the column of the key or dash.
    Text {
        lines: String,
        from: usize,
    },
    /// Keys below, with comments behind the last.
    Keys(Vec<Entry>, Vec<Own>),
    /// A list below, with comments behind its last entry.
    List(Vec<Entry>, Vec<Own>),
}

/// A key or the entry of a list.
pub(super) struct Entry {
    pub lead: Vec<Own>,
    /// A blank line stands before it, behind its comments.
    pub gap: bool,
    /// Nothing for an entry of a list.
    pub key: Option<String>,
    pub value: Value,
    pub behind: Option<Behind>,
    /// Comments on lines of their own that are set in deeper than it.
    pub after: Vec<Own>,
    /// Its place in the order of its record.
    pub rank: usize,
}

/// A whole sketch.
pub(super) struct Plan {
    /// Comments at the head of the file.
    pub head: Vec<Own>,
    /// A blank line stands between them and the first key.
    pub gap: bool,
    pub sections: Vec<Entry>,
    pub tail: Vec<Own>,
}
