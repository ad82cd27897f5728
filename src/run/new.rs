use super::Exit;
use crate::cli::NewArgs;
pub(super) fn new(_args: &NewArgs) -> Exit {
    Exit::Done
}
