//! The arithmetic of prices against Python's decimal module: `cents.py` made `cents.csv`.

use rust_decimal::Decimal;
use slabwalk::price::with_shares;
use slabwalk::quantity::Money;

#[test]
fn products_and_margins_agree_with_another_decimal_arithmetic() {
    let table = include_str!("cents.csv");
    let mut rows = 0;
    for line in table.lines().skip(1) {
        let cells: Vec<&str> = line.split(',').collect();
        let [what, first, second, want] = cells[..] else {
            panic!("{line}");
        };
        let first: Decimal = first.parse().expect(line);
        let second: Decimal = second.parse().expect(line);
        let got = match what {
            "line" => Money::rounded(first * second),
            "price" => with_shares(first, second),
            _ => panic!("{line}"),
        };
        assert_eq!(got.to_string(), want, "{line}");
        rows += 1;
    }
    assert_eq!(rows, 611, "the whole table");
}
