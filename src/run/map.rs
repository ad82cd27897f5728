//! `slabwalk map`: one drawing of a floor alone.

use super::drawings::{self, Wish};
use super::picture::Target;
use super::{Exit, load, terminal};
use crate::cli::{MapArgs, Picture, Reader};
use crate::sheet::Audience;

pub(super) fn map(args: &MapArgs) -> Exit {
    let target = match Target::of(&args.drawing, Picture::Svg) {
        Ok(target) => target,
        Err(exit) => return exit,
    };
    let loaded = match load::load(&args.sketch, &args.reading) {
        Ok(loaded) => loaded,
        Err(exit) => return exit,
    };
    let audience = match args.reader {
        Reader::Crew => Audience::Crew,
        Reader::Customer => Audience::Customer,
        Reader::Field => Audience::Field,
    };
    let wish = Wish { paper: args.drawing.paper, scale: args.drawing.scale };
    match drawings::sheets(&loaded, audience, wish) {
        Ok(sheets) => {
            loaded.say_stops();
            if let (Audience::Customer, (_, Some(found))) = (audience, loaded.logo()) {
                terminal::rendered(&loaded.render(std::slice::from_ref(found)));
            }
            // The form for another visit has no tags and rows to hold against each other.
            if audience != Audience::Field
                && let Some(cut) =
                    drawings::looked_over(&loaded, &sheets, &drawings::files(&sheets, false))
            {
                terminal::rendered(&loaded.render(&[cut]));
            }
            target.write(&sheets, |sheets| loaded.papers().pdf(sheets))
        }
        Err(found) => {
            terminal::rendered(&loaded.render(&found));
            Exit::Sketch
        }
    }
}
