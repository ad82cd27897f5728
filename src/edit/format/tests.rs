use super::format;

#[test]
fn canonical_forms() {
    let rows = [
        (
            "order of sections, blank lines between them, comments go along",
            "# A shed.\n\nslabwalk: 1\nunits: us\nshop: my.yaml # ours\n\n\n# the floor\nslab:\n    outline: [[0,0],[1,0],[1,1]]\n    # how thick\n    thickness: 4\"   # taped\njob:\n  name: shed\n# the end\n",
            "# A shed.\n\nslabwalk: 1\n\njob:\n  name: shed\n\nunits: us\nshop: my.yaml  # ours\n\n# the floor\nslab:\n  # how thick\n  thickness: 4\"     # taped\n  outline: [[0, 0], [1, 0], [1, 1]]\n# the end\n",
        ),
        (
            "records in brackets and below",
            "joints:\n- {kind: control,x:  12',id: J1}\n-   kind: control\n    # where\n    y: 3\n    id: J2 # second\n",
            "joints:\n  - {id: J1, kind: control, x: 12'}\n  - id: J2  # second\n    kind: control\n    # where\n    y: 3\n",
        ),
        (
            "blocks of text move with their key",
            "job:\n    notes: |   # long\n       one\n         two\n\n    name: x\n",
            "job:\n  name: x\n  notes: |   # long\n     one\n       two\n",
        ),
        (
            "brackets over several lines stay",
            "slab:\n    outline: [ # corners\n      [0,0], # first\n      [1,0],\n      [1,1] ]\n",
            "slab:\n  outline: [ # corners\n    [0,0], # first\n    [1,0],\n    [1,1] ]\n",
        ),
        (
            "an anchor keeps its section and the order",
            "units:   us\nslab:   {outline: &o [[0,0],[1,0],[1,1]]}\njob:   {name: x}\n",
            "units: us\n\nslab:   {outline: &o [[0,0],[1,0],[1,1]]}\n\njob: {name: x}\n",
        ),
        (
            "lists in lists",
            "levels:\n- - 0\n  - 0 # y\n  - 1/8\n",
            "levels:\n  - - 0\n    - 0  # y\n    - 1/8\n",
        ),
        (
            "nothing behind a key",
            "cracks:\n\n  # none\nlevels:   ~   # no\n",
            "cracks:\n\n  # none\n\nlevels: ~     # no\n",
        ),
    ];
    for (name, text, wanted) in rows {
        let found = format(text).expect(name);
        assert_eq!(found, wanted, "{name}:\n{found}");
        assert_eq!(format(&found).as_deref(), Ok(wanted), "{name}, again");
    }
}

#[test]
fn what_is_not_understood_stays() {
    for text in [
        "---\nslabwalk:   1\n",
        "{slabwalk: 1,job:   {name: x}}\n",
        "  slabwalk:   1\n",
        "a: !!str   1\n",
        "? a\n: 1\n",
    ] {
        assert_eq!(format(text).as_deref(), Ok(text));
    }
    assert!(format("a: [").is_err());
}
