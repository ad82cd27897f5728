//! Which request means what.

use super::http::{Head, Response};

/// What is asked for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Route {
    /// A file of the page.
    Asset(Response),
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
    /// What can be recorded.
    Kinds,
    /// A record to append.
    Record,
    /// The last record to take back.
    Undo,
}

/// Finds what a path behind the token means.
///
/// # Errors
///
/// The answer where it means nothing, or not with this method.
pub fn route(head: &Head, path: &str) -> Result<Route, Response> {
    let (route, method) = match path {
        "/api/state" => (Route::State, "GET"),
        "/api/events" => (Route::Events, "GET"),
        "/api/view" => (Route::View, "GET"),
        "/api/explain" => (Route::Explain, "GET"),
        "/api/place" => (Route::Place, "GET"),
        "/api/kinds" => (Route::Kinds, "GET"),
        "/api/record" => (Route::Record, "POST"),
        "/api/undo" => (Route::Undo, "POST"),
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
