//! What a plan can promise: nothing beyond a day that waits for the weather.

use super::model::{Day, Moment, Piece, Plan};

/// What is said in the place of a date that nobody can promise.
pub const ON_WEATHER: &str = "depends on the weather; confirmed the day before";

/// What is said beside dates while something is on hold.
pub const ONCE_CLEARED: &str =
    "Days and times hold once everything on hold has been cleared before the first of them.";

/// When the floor is given back.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum GivenBack {
    /// From this moment on.
    From(Moment),
    /// A coat before it waits for the weather, so nobody knows.
    WeatherDecides,
}

impl Day {
    /// Whether a coat of this day waits for the weather: the forecast says so, or ends before it.
    #[must_use]
    pub fn waits(&self) -> bool {
        let coat = self.pieces.iter().any(Piece::is_coat);
        let wet = self.weather.is_some_and(|weather| !weather.go());
        coat && (wet || self.beyond_forecast)
    }
}

impl Plan {
    /// The first day of which a coat waits for the weather; it and all that follow have no date yet.
    #[must_use]
    pub fn first_wait(&self) -> Option<&Day> {
        self.days.iter().find(|day| day.waits())
    }

    /// Whether the date of a day holds: no coat before it or on it waits for the weather.
    #[must_use]
    pub fn is_certain(&self, day: &Day) -> bool {
        self.first_wait().is_none_or(|wait| day.number < wait.number)
    }

    /// When the floor may be walked and driven on: what, and when.
    #[must_use]
    pub fn given_back(&self) -> Vec<(&'static str, GivenBack)> {
        let decided = self.first_wait().is_none();
        let when = |moment: &Moment| match decided {
            true => GivenBack::From(*moment),
            false => GivenBack::WeatherDecides,
        };
        let both = [("On foot", &self.foot), ("Vehicles", &self.wheels)];
        both.into_iter().filter_map(|(what, moment)| Some((what, when(moment.as_ref()?)))).collect()
    }
}
