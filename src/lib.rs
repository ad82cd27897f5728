//! Survey a concrete slab with a tape and one YAML sketch; get repair quantities and the repair map.
