//! `slabwalk schema`: the JSON Schema of a file format.

use super::{Exit, terminal};
use crate::cli::{SchemaArgs, SchemaOf};
use crate::schema::{shop_schema, sketch_schema};

pub(super) fn schema(args: &SchemaArgs) -> Exit {
    terminal::data(&match args.of {
        SchemaOf::Sketch => sketch_schema(),
        SchemaOf::Shop => shop_schema(),
    })
}
