//! Which request means what.

use super::http::{Head, Response};

/// What is asked for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Route {
    /// A file of the page.
    Asset(Response),
    /// What the page can show before anything is measured.
    Glance,
    /// Everything the page shows beside the drawing.
    State,
    /// Word of every change, as it happens.
    Events,
    /// A drawing.
    View,
    /// How the numbers of an item were reached.
    Explain,
    /// A tapped or typed place.
    Place,
    /// Where several alike would stand.
    Alike,
    /// What can be recorded.
    Kinds,
    /// A record to append.
    Record,
    /// The last change to take back.
    Undo,
    /// The last change that was taken back, to make again.
    Redo,
    /// A finished paper.
    Paper,
    /// The sketch as it is.
    Text,
    /// A record to change or remove, or something about the floor as a whole.
    Amend,
    /// What is wrong with photos and logo.
    Pictures,
    /// The bytes of a photo.
    Photo,
    /// Where the runs of an outline lead.
    Walk,
    /// Where the corners of an outline lie.
    Corners,
    /// The sketch of a new floor.
    Begin,
}

/// Finds what a path behind the token means.
///
/// # Errors
///
/// The answer where it means nothing, or not with this method.
pub fn route(head: &Head, path: &str) -> Result<Route, Response> {
    let (route, method) = match path {
        "/api/glance" => (Route::Glance, "GET"),
        "/api/state" => (Route::State, "GET"),
        "/api/events" => (Route::Events, "GET"),
        "/api/view" => (Route::View, "GET"),
        "/api/explain" => (Route::Explain, "GET"),
        "/api/place" => (Route::Place, "GET"),
        "/api/alike" => (Route::Alike, "GET"),
        "/api/kinds" => (Route::Kinds, "GET"),
        "/api/record" => (Route::Record, "POST"),
        "/api/amend" => (Route::Amend, "POST"),
        "/api/undo" => (Route::Undo, "POST"),
        "/api/redo" => (Route::Redo, "POST"),
        "/api/paper" => (Route::Paper, "GET"),
        "/api/text" => (Route::Text, "GET"),
        "/api/pictures" => (Route::Pictures, "GET"),
        "/api/photo" => (Route::Photo, "POST"),
        "/api/walk" => (Route::Walk, "POST"),
        "/api/corners" => (Route::Corners, "POST"),
        "/api/begin" => (Route::Begin, "POST"),
        other => match super::assets::asset(other) {
            Some(file) => (Route::Asset(file), "GET"),
            None => return Err(Response::refused(404, "there is nothing here", "")),
        },
    };
    if head.method != method {
        return Err(Response::refused(405, "not with this method", ""));
    }
    Ok(route)
}
