//! The sheets of photographs for the crew: in gray, each with the tag of its item, where that is, and the note.

use crate::ink::{Align, Group, ImageMark, Mark, Picture, Sheet};

use super::Inputs;
use super::frame::{self, Titles};
use super::page::TITLE_STRIP;
use super::schedule;
use crate::paper::draw;
use crate::paper::mm::{Box2, at};
use crate::paper::size::Paper;
use crate::paper::style;
use crate::paper::words;

/// A photograph to be placed.
#[derive(Clone, Debug)]
pub struct Shot<'a> {
    /// Id of its item.
    pub item: &'a str,
    /// The sketch's note.
    pub note: Option<&'a str>,
    /// Name of its file, as the sketch has it.
    pub file: &'a str,
    /// The picture in gray; `None` where it can't be shown.
    pub picture: Option<&'a Picture>,
}

/// Least width and height of a place, mm.
const PLACE: (f64, f64) = (84.0, 85.0);
/// Air around each photograph, mm.
const AIR: f64 = 4.0;
/// Most lines of a caption.
const LINES: usize = 6;

/// Draws the sheets on a paper; none without photographs.
#[must_use]
pub fn compose(inputs: &Inputs, shots: &[Shot], paper: Paper) -> Vec<Sheet> {
    let m = style::MARGIN;
    let border = Box2::new(m, m, paper.width() - m, paper.height() - m);
    let inner = Box2::new(border.left, border.top, border.right, border.bottom - TITLE_STRIP);
    let grid =
        ((inner.width() / PLACE.0).floor().max(1.0), (inner.height() / PLACE.1).floor().max(1.0));
    let each = (grid.0 * grid.1) as usize;
    let places = places(inputs);
    let count = shots.len().div_ceil(each);
    let sheet = |(i, shots): (usize, &[Shot])| {
        let count_here = shots.len();
        let mut groups: Vec<Group> = shots
            .iter()
            .enumerate()
            .map(|(n, shot)| {
                self::shot(shot, (i, n), &cell(&inner, grid, (n, count_here)), &places)
            })
            .collect();
        groups.extend(frames(inputs, paper, &border, (i, count)));
        let suffix = if i == 0 { String::new() } else { format!("-{}", i + 1) };
        let tags: Vec<&str> = shots.iter().map(|s| s.item).collect();
        let name = words::clean(&inputs.job.name);
        Sheet {
            name: format!("photos{suffix}"),
            title: format!("P-{} PHOTOS for the crew, {name}", 101 + i),
            description: format!("Photographs of {}.", tags.join(", ")),
            width: paper.width(),
            height: paper.height(),
            groups,
        }
    };
    shots.chunks(each).enumerate().map(sheet).collect()
}

/// What the schedules say of each item: place, treatment and note. An item may have several rows, and what lies in a patch those of the patch.
fn places(inputs: &Inputs) -> Vec<(String, String)> {
    let mut out: Vec<(String, String)> = Vec::new();
    for row in schedule::tables(inputs).into_iter().flat_map(|t| t.rows) {
        match out.last_mut() {
            Some((_, words)) if row.id.is_empty() => {
                if words.is_empty() {
                    *words = row.words;
                }
            }
            _ => out.push((row.id, row.words)),
        }
    }
    for patch in &inputs.takeoff.patches {
        let row = out.iter().find(|(id, _)| *id == patch.id);
        let words = row.map_or(String::new(), |(_, words)| format!("Patch {}. {words}", patch.id));
        out.extend(patch.ids().map(|id| (id.to_owned(), words.clone())));
    }
    out
}

/// The place of a photograph of so many on a sheet that is divided into so many columns and rows. Few are shown larger, in fewer of them.
fn cell(inner: &Box2, (columns, rows): (f64, f64), (n, of): (usize, usize)) -> Box2 {
    let of = of as f64;
    let columns = columns.min(of.max(1.0));
    let rows = rows.min((of / columns).ceil()).max(1.0);
    let (w, h) = (inner.width() / columns, inner.height() / rows);
    let n = n as f64;
    let (column, row) = (n % columns, (n / columns).floor());
    Box2::new(
        inner.left + column * w + AIR,
        inner.top + row * h + AIR,
        inner.left + (column + 1.0) * w - AIR,
        inner.top + (row + 1.0) * h - AIR,
    )
}

fn shot(
    shot: &Shot,
    (sheet, n): (usize, usize),
    cell: &Box2,
    places: &[(String, String)],
) -> Group {
    let (body, strong) = (style::body(), style::strong());
    let lines = caption(shot, cell.width(), places);
    let foot = body.pitch() * (lines.len() + 1) as f64 + 2.0;
    let mut marks = Vec::new();
    let room = Box2::new(cell.left, cell.top, cell.right, cell.bottom - foot);
    let below = match shot.picture {
        Some(picture) => {
            let area = fitted(picture, &room);
            marks.push(Mark::Image(ImageMark {
                at: at(area.left, area.top),
                width: area.width(),
                height: area.height(),
                picture: picture.clone(),
                words: format!("Photograph of {}", shot.item),
            }));
            marks.push(draw::rectangle(&area, Some(style::FINE), None));
            area.bottom
        }
        None => {
            let area = Box2::new(room.left, room.top, room.right, room.top + 24.0);
            marks.push(draw::rectangle(&area, Some(style::FINE), None));
            let middle = at(area.center().x, area.center().y + body.cap() / 2.0);
            let text = words::fit("PHOTO CAN'T BE SHOWN", body, area.width() - 4.0);
            marks.push(draw::words(middle, text, body, Align::Middle));
            area.bottom
        }
    };
    let y = below + 2.0 + body.cap();
    let head = words::fit(shot.item, strong, cell.width());
    marks.push(draw::words(at(cell.left, y), head, strong, Align::Start));
    let first = at(cell.left, y + body.pitch());
    marks.extend(draw::below(first, lines, body, body.pitch()));
    draw::group(format!("photo-{}-{}", sheet + 1, n + 1), "photo", marks)
}

/// Where the item is, and the note of the photograph; the name of the file where nothing is to be seen.
fn caption(shot: &Shot, width: f64, places: &[(String, String)]) -> Vec<String> {
    let body = style::body();
    let place = places.iter().find(|(id, _)| id == shot.item);
    let mut out = Vec::new();
    if shot.picture.is_none() {
        out.extend(words::wrap(&words::clean(shot.file), body, width));
    }
    if let Some(note) = shot.note {
        out.extend(words::wrap(&words::clean(note), body, width));
    }
    if let Some((_, place)) = place {
        out.extend(words::wrap(place, body, width));
    }
    if out.len() > LINES {
        let rest = out.split_off(LINES - 1).join(" ");
        let last = words::fit(&format!("{rest} …"), body, width);
        out.push(last);
    }
    out
}

/// The largest place of the picture's proportions in a box, at its upper left.
fn fitted(picture: &Picture, room: &Box2) -> Box2 {
    let (w, h) = (f64::from(picture.width.max(1)), f64::from(picture.height.max(1)));
    let scale = (room.width() / w).min(room.height() / h);
    Box2::new(room.left, room.top, room.left + w * scale, room.top + h * scale)
}

fn frames(inputs: &Inputs, paper: Paper, border: &Box2, (i, count): (usize, usize)) -> Vec<Group> {
    let titles = Titles {
        title: "PHOTOS",
        reader: "FOR THE CREW",
        number: format!("P-{}", 101 + i),
        of: (i + 1, count),
        scale: None,
    };
    let strip = Box2::new(border.left, border.bottom - TITLE_STRIP, border.right, border.bottom);
    vec![
        draw::border(border),
        frame::title_strip(inputs, &titles, &strip),
        frame::origin(inputs, paper, border),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::paper::size::Size;
    use crate::sheet::fixture::{GARAGE, floor, inputs};

    fn picture(width: u32, height: u32) -> Picture {
        let plain = image::RgbImage::from_pixel(width, height, image::Rgb([120, 130, 140]));
        let mut png = std::io::Cursor::new(Vec::new());
        plain.write_to(&mut png, image::ImageFormat::Png).unwrap();
        crate::photo::develop(png.get_ref()).unwrap().gray
    }

    fn faults(sheets: &[Sheet]) -> Vec<String> {
        let files = sheets.iter().map(|s| crate::svg::write_with(s, false));
        files.flat_map(|f| crate::audit::audit(&f)).map(|f| f.to_string()).collect()
    }

    #[test]
    fn every_photograph_has_its_tag_place_and_note_and_nothing_overlaps() {
        let floor = floor(GARAGE);
        let (wide, tall) = (picture(400, 200), picture(150, 400));
        let note = "a long note about the run of this crack ".repeat(30);
        let mut shots: Vec<Shot> = (0..16)
            .map(|n| Shot {
                item: if n % 2 == 0 { "C1" } else { "L1" },
                note: Some(&note[..(n * 70).min(note.len())]),
                file: "photos/some.jpg",
                picture: Some(if n % 3 == 0 { &tall } else { &wide }),
            })
            .collect();
        shots[4].picture = None;
        let sheets = compose(&inputs(&floor), &shots, Paper::landscape(Size::Letter));
        assert_eq!(sheets.len(), 3);
        assert_eq!(faults(&sheets), [""; 0]);
        let svg = crate::svg::write_with(&sheets[0], false);
        assert_eq!(svg.matches("<image").count(), 5);
        assert!(svg.contains("PHOTO CAN'T BE SHOWN") && svg.contains("photos/some.jpg"));
        assert!(svg.contains("Along J1 from its S end"), "the place of L1");
        let places = places(&inputs(&floor));
        for item in ["C1", "S2"] {
            let place = places.iter().find(|(id, _)| id == item);
            assert!(place.is_some_and(|(_, words)| !words.is_empty()), "{item}");
        }
        let letter = Paper::landscape(Size::Letter);
        assert!(compose(&inputs(&floor), &[], letter).is_empty());
    }

    #[test]
    fn the_other_writers_take_the_photographs_too() {
        let floor = floor(GARAGE);
        let wide = picture(300, 200);
        let shot = Shot { item: "C1", note: None, file: "a.jpg", picture: Some(&wide) };
        let sheets = compose(&inputs(&floor), &[shot], Paper::landscape(Size::Tabloid));
        let file = crate::pdf::write(&sheets, &crate::pdf::Metadata::default()).unwrap();
        let holds = |needle: &[u8]| file.windows(needle.len()).any(|w| w == needle);
        assert!(holds(b"DCTDecode") && holds(b"/Width 300"));
        // The middle of the first place is the photograph's gray.
        let png = crate::png::draw(&crate::svg::write_with(&sheets[0], false), 25.4).unwrap();
        let pixel = png.pixel(60, 40).unwrap();
        assert!(pixel.red().abs_diff(129) < 6 && pixel.red() == pixel.blue(), "{pixel:?}");
    }
}
