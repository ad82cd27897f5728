use super::Exit;
use crate::cli::FormatArgs;
pub(super) fn format(_args: &FormatArgs) -> Exit {
    Exit::Done
}
