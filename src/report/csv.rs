//! The takeoff as one flat table for a spreadsheet, in the units of the sketch: a head, then one
//! number a row with the section it belongs to, the item's id, what it is, and its unit.
//!
//! Lines end in a line feed alone. RFC 4180 writes CRLF, but every spreadsheet reads both, the
//! other reports end their lines so, and a file kept under version control doesn't change its
//! bytes with the machine it is checked out on. There is no byte order mark, which scripts would
//! take for part of the first head; the program's own words and units are plain ASCII, so that
//! only what the estimator wrote depends on the file being opened as UTF-8.

mod floor;
mod table;
mod work;

pub(crate) use table::{Cell, Table, or_empty};

use super::Report;
use crate::quantity::{
    KG_PER_LB, L_PER_GAL, L_PER_IN3, M_PER_FT, M_PER_IN, M2_PER_FT2, Units, write,
};
use crate::record::Kind;
use crate::takeoff::kinds_by_work;

/// The head of the table.
const HEAD: [&str; 6] = ["section", "id", "what", "quantity", "unit", "note"];

/// Decimals of a quantity; a ten-thousandth of a foot is finer than any tape.
const DECIMALS: u32 = 4;

/// The takeoff as CSV.
#[must_use]
pub fn takeoff(report: &Report) -> String {
    let mut sheet = Sheet::new(report.slab.units);
    floor::rows(&mut sheet, report);
    let (worked, others) = kinds_by_work();
    worked.into_iter().for_each(|kind| items(&mut sheet, report, kind));
    floor::panels(&mut sheet, report);
    others.into_iter().for_each(|kind| items(&mut sheet, report, kind));
    floor::rest(&mut sheet, report);
    sheet.table.done()
}

/// The rows of the items of a kind.
fn items(sheet: &mut Sheet, report: &Report, kind: Kind) {
    match kind {
        Kind::Joint => work::joints(sheet, report),
        Kind::Crack => work::cracks(sheet, report),
        Kind::Spall => {
            work::spalls(sheet, report);
            work::patches(sheet, report);
        }
        Kind::Delamination => work::delaminations(sheet, report),
        Kind::Blemish => floor::blemishes(sheet, report),
        Kind::Lippage => work::steps(sheet, report),
        // They stand among the areas of the floor, and tests among the conditions.
        Kind::KeepOut | Kind::Uncoated | Kind::Tier | Kind::Moisture => {}
    }
}

/// The table being written.
struct Sheet {
    units: Units,
    section: &'static str,
    id: String,
    table: Table,
}

impl Sheet {
    fn new(units: Units) -> Self {
        Self { units, section: "", id: String::new(), table: Table::new(&HEAD) }
    }

    /// The rows after this belong to this item of this section.
    fn about(&mut self, section: &'static str, id: &str) {
        self.section = section;
        id.clone_into(&mut self.id);
    }

    fn row(&mut self, what: &str, quantity: &str, unit: &str, note: &str) {
        self.table.row(&[&self.section, &self.id, &what, &quantity, &unit, &note]);
    }

    /// A row with a number already in its unit.
    fn number(&mut self, what: &str, value: f64, unit: &str, note: &str) {
        self.row(what, &write::trimmed(value, DECIMALS), unit, note);
    }

    /// A row with words and no number.
    fn words(&mut self, what: &str, note: &str) {
        self.row(what, "", "", note);
    }

    /// A floor length in metres, as feet or metres.
    fn length(&mut self, what: &str, m: f64, note: &str) {
        match self.units {
            Units::Us => self.number(what, m / M_PER_FT, "ft", note),
            Units::Metric => self.number(what, m, "m", note),
        }
    }

    /// A width, depth or step in metres, as inches or millimetres.
    fn small(&mut self, what: &str, m: f64, note: &str) {
        match self.units {
            Units::Us => self.number(what, m / M_PER_IN, "in", note),
            Units::Metric => self.number(what, m * 1000.0, "mm", note),
        }
    }

    /// An area in square metres, as square feet or square metres.
    fn area(&mut self, what: &str, m2: f64, note: &str) {
        match self.units {
            Units::Us => self.number(what, m2 / M2_PER_FT2, "ft2", note),
            Units::Metric => self.number(what, m2, "m2", note),
        }
    }

    /// A volume of filler, resin or sealant in litres, as gallons or litres.
    fn liquid(&mut self, what: &str, l: f64, note: &str) {
        match self.units {
            Units::Us => self.number(what, l / L_PER_GAL, "gal", note),
            Units::Metric => self.number(what, l, "L", note),
        }
    }

    /// A volume of mortar or concrete in litres, as cubic inches or litres.
    fn solid(&mut self, what: &str, l: f64, note: &str) {
        match self.units {
            Units::Us => self.number(what, l / L_PER_IN3, "in3", note),
            Units::Metric => self.number(what, l, "L", note),
        }
    }

    /// An amount of a product in the unit it is kept in.
    fn amount(&mut self, what: &str, value: f64, unit: &str, note: &str) {
        match (unit, self.units) {
            ("L", _) => self.liquid(what, value, note),
            ("m", _) => self.length(what, value, note),
            ("kg", Units::Us) => self.number(what, value / KG_PER_LB, "lb", note),
            _ => self.number(what, value, unit, note),
        }
    }

    /// A temperature in degrees Celsius.
    fn temperature(&mut self, what: &str, c: f64) {
        match self.units {
            Units::Us => self.number(what, c * 1.8 + 32.0, "deg F", ""),
            Units::Metric => self.number(what, c, "deg C", ""),
        }
    }

    /// A difference of temperatures in kelvins.
    fn spread(&mut self, what: &str, k: f64) {
        match self.units {
            Units::Us => self.number(what, k * 1.8, "deg F", ""),
            Units::Metric => self.number(what, k, "deg C", ""),
        }
    }

    /// A number of things.
    fn count(&mut self, what: &str, n: usize, note: &str) {
        self.row(what, &n.to_string(), "each", note);
    }

    /// The line of the sketch that something comes from.
    fn line(&mut self, what: &str, line: usize, note: &str) {
        self.row(what, &line.to_string(), "line", note);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::sample::{demonstrations, metric, report, us};

    fn table(text: &str) -> Vec<Vec<String>> {
        let mut reader =
            ::csv::ReaderBuilder::new().has_headers(false).from_reader(text.as_bytes());
        let records = reader.records().map(|record| record.expect("a record of six cells"));
        records.map(|record| record.iter().map(str::to_owned).collect()).collect()
    }

    /// Quantity, unit and note of one row.
    fn row(table: &[Vec<String>], section: &str, id: &str, what: &str) -> (String, String, String) {
        let is = |row: &&Vec<String>| row[0] == section && row[1] == id && row[2] == what;
        let found: Vec<_> = table.iter().filter(is).collect();
        assert_eq!(found.len(), 1, "{section} {id} {what}: {found:?}");
        (found[0][3].clone(), found[0][4].clone(), found[0][5].clone())
    }

    #[test]
    fn rows_in_both_units() {
        let us = table(&takeoff(&report(&us())));
        let metric = table(&takeoff(&report(&metric())));
        assert_eq!(us[0], HEAD);
        let rows = [
            ("area", "", "gross", "576", "ft2", "53.5122", "m2"),
            ("area", "", "hand edging", "30", "ft2", "2.7871", "m2"),
            ("edge", "", "termination", "8", "ft", "2.4384", "m"),
            ("joint", "J1", "length", "24", "ft", "7.3152", "m"),
            ("joint", "J1", "sawn", "23.5", "ft", "7.1628", "m"),
            ("joint", "J1", "ends by hand", "2", "each", "2", "each"),
            ("joint", "J1", "chase depth", "1.25", "in", "31.75", "mm"),
            ("joint", "J1", "filler", "0.5844", "gal", "2.2123", "L"),
            ("joint", "J2", "backer rod", "0.625", "in", "15.875", "mm"),
            ("crack", "C1", "portion 2 width", "0.1875", "in", "4.7625", "mm"),
            ("spall", "S2", "mortar", "6", "in3", "0.0983", "L"),
            ("patch", "R1", "length", "12", "in", "304.8", "mm"),
            ("step", "L1", "by hand", "3.5", "ft", "1.0668", "m"),
            ("panel", "P1", "aspect", "1", "", "1", ""),
            ("total", "", "joint sawn", "23.5", "ft", "7.1628", "m"),
            ("order", "joint filler", "packages", "6", "each", "6", "each"),
            ("order", "patch mortar", "needed", "10", "lb", "4.5359", "kg"),
            ("finding", "J1", "chase-cover", "12", "line", "12", "line"),
        ];
        for (section, id, what, in_us, us_unit, in_metric, metric_unit) in rows {
            let (quantity, unit, _) = row(&us, section, id, what);
            assert_eq!((quantity.as_str(), unit.as_str()), (in_us, us_unit), "{id} {what}");
            let (quantity, unit, _) = row(&metric, section, id, what);
            assert_eq!((quantity.as_str(), unit.as_str()), (in_metric, metric_unit), "{id} {what}");
        }
    }

    #[test]
    fn a_finding_says_how_much_it_weighs() {
        let table = table(&takeoff(&report(&us())));
        let (_, _, note) = row(&table, "finding", "J1", "chase-cover");
        assert!(note.starts_with("stop: J1 is cut"), "{note}");
        assert!(note.contains("licensed engineer"), "{note}");
    }

    #[test]
    fn a_malicious_sketch_stays_text() {
        let mut sample = us();
        sample.sketch.job.name = "=HYPERLINK(\"x\")".to_owned();
        sample.sketch.job.client = Some("A\u{1b}[2J \u{202e}Sample".to_owned());
        sample.slab.joints[0].note = Some("@now, \"quoted\"\nand more".to_owned());
        let text = takeoff(&report(&sample));
        let table = table(&text);
        for record in &table {
            for (i, cell) in record.iter().enumerate() {
                let formula =
                    cell.starts_with(['=', '+', '@']) || (i != 3 && cell.starts_with('-'));
                assert!(!formula, "{record:?}");
            }
        }
        assert_eq!(text.lines().count(), table.len());
        let moves = |c: char| c != '\n' && crate::text::moves(c);
        assert!(!text.contains(moves), "{text:?}");
    }

    #[test]
    fn negative_numbers_keep_their_sign() {
        let mut sample = us();
        sample.takeoff.conditions.spread_c = Some(-2.0);
        let table = table(&takeoff(&report(&sample)));
        let (quantity, unit, _) = row(&table, "conditions", "", "slab above dew point");
        assert_eq!((quantity.as_str(), unit.as_str()), ("-3.6", "deg F"));
    }

    #[test]
    fn the_demonstration_floors_are_whole_tables() {
        for (name, survey) in demonstrations() {
            let table = table(&takeoff(&report(survey)));
            let sawn = table.iter().filter(|row| row[0] == "joint" && row[2] == "sawn");
            let sum: f64 = sawn.map(|row| row[3].parse::<f64>().expect("a number")).sum();
            let (total, _, _) = row(&table, "total", "", "joint sawn");
            let total: f64 = total.parse().expect("a number");
            assert!((sum - total).abs() < 1e-3, "{name}: {sum} {total}");
            for record in table.iter().skip(1) {
                let number = record[3].is_empty() || record[3].parse::<f64>().is_ok();
                assert!(record.len() == HEAD.len() && number, "{name}: {record:?}");
            }
        }
    }

    #[test]
    fn own_words_are_plain_ascii() {
        let text = takeoff(&report(&us()));
        assert!(text.is_ascii(), "{:?}", text.chars().find(|c| !c.is_ascii()));
    }
}
