use super::*;
use serde_json::{Value, json};

const SHED: &str =
    "slabwalk: 1\njob: {name: Shed}\nslab: {outline: [[0, 0], [24', 0], [24', 20'], [0, 20']]}\n";

/// Asks as the page does; status and body.
fn ask(pocket: &mut Pocket, line: &str, body: &str) -> (u16, Vec<u8>) {
    let out = pocket.answer(format!("{line}\n{body}").as_bytes());
    let end = out.iter().position(|b| *b == b'\n').expect("a first line");
    let head = String::from_utf8_lossy(&out[..end]);
    let status = head.split(' ').next().and_then(|s| s.parse().ok());
    (status.expect("a status"), out[end + 1..].to_vec())
}

fn json_of(pocket: &mut Pocket, line: &str, body: &Value) -> Value {
    let (status, bytes) = ask(pocket, line, &body.to_string());
    let said = String::from_utf8_lossy(&bytes).into_owned();
    assert_eq!(status, 200, "{line}: {said}");
    serde_json::from_slice(&bytes).expect("JSON")
}

fn opened(text: &str) -> Pocket {
    let mut pocket = Pocket::default();
    let job = json!({"name": "shed.yaml", "book": null, "steps": [{"number": 0, "label": "", "text": text}], "at": 0});
    json_of(&mut pocket, "POST /api/open", &job);
    pocket
}

fn crack(state: &Value) -> Value {
    json!({
        "version": state["version"], "ground": state["ground"], "kind": "crack",
        "points": [{"x": "2'", "y": "2'"}, {"x": "5'", "y": "6'"}],
        "values": {"width": "1/16\"", "movement": "dormant"},
    })
}

#[test]
fn a_record_is_taken_back_and_made_again_and_what_was_kept_of_it_is_taken_up() {
    let mut pocket = opened(SHED);
    let state = json_of(&mut pocket, "GET /api/state", &Value::Null);
    let done = json_of(&mut pocket, "POST /api/record", &crack(&state));
    assert_eq!(done["label"], "Crack C1");
    let after = json_of(&mut pocket, "GET /api/text", &Value::Null);
    assert_eq!((&after["number"], &after["label"]), (&json!(1), &json!("Crack C1")));
    json_of(&mut pocket, "POST /api/undo", &json!({"number": 1}));
    let before = json_of(&mut pocket, "GET /api/text", &Value::Null);
    assert_eq!((&before["number"], &before["text"]), (&json!(0), &json!(SHED)));
    let state = json_of(&mut pocket, "GET /api/state", &Value::Null);
    assert_eq!((&state["undo"], &state["redo"]), (&Value::Null, &json!([1, "Crack C1"])));

    // The memory is lost, the texts are kept.
    let mut other = Pocket::default();
    let job = json!({"name": "shed.yaml", "book": null, "steps": [before, after], "at": 0});
    json_of(&mut other, "POST /api/open", &job);
    assert_eq!(json_of(&mut other, "GET /api/state", &Value::Null), state);
    json_of(&mut other, "POST /api/redo", &json!({"number": 1}));
    assert_eq!(json_of(&mut other, "GET /api/text", &Value::Null), after);
    let state = json_of(&mut other, "GET /api/state", &Value::Null);
    let next = json_of(&mut other, "POST /api/record", &crack(&state));
    assert_eq!(next["label"], "Crack C2");
    assert_eq!(json_of(&mut other, "GET /api/text", &Value::Null)["number"], 2);
}

#[test]
fn a_new_record_ends_what_could_be_made_again() {
    let mut pocket = opened(SHED);
    let state = json_of(&mut pocket, "GET /api/state", &Value::Null);
    json_of(&mut pocket, "POST /api/record", &crack(&state));
    json_of(&mut pocket, "POST /api/undo", &json!({"number": 1}));
    json_of(&mut pocket, "POST /api/record", &crack(&state));
    let state = json_of(&mut pocket, "GET /api/state", &Value::Null);
    assert_eq!((&state["undo"][0], &state["redo"]), (&json!(2), &Value::Null));
    let (status, said) = ask(&mut pocket, "POST /api/redo", "{\"number\": 1}");
    assert_eq!(status, 409);
    assert!(String::from_utf8_lossy(&said).contains("nothing was made again"));
}

#[test]
fn papers_are_made_and_what_is_none_is_refused() {
    let mut pocket = opened(SHED);
    let rows = [
        ("crew-map.pdf", 200, "%PDF-"),
        ("takeoff.json", 200, "{"),
        ("photos.pdf", 422, "{\"field\":\"\",\"message\":\"there are no photos yet\"}"),
        ("../shop.yaml", 404, "{\"field\":\"\",\"message\":\"there is no such paper\"}"),
    ];
    for (name, wanted, start) in rows {
        let (status, bytes) = ask(&mut pocket, &format!("GET /api/paper?name={name}"), "");
        assert_eq!(status, wanted, "{name}");
        assert!(bytes.starts_with(start.as_bytes()), "{name}");
    }
}

#[test]
fn what_is_known_without_measuring_comes_with_the_answer() {
    let mut pocket = opened(SHED);
    let state = json_of(&mut pocket, "GET /api/state", &Value::Null);
    let made = json_of(&mut pocket, "POST /api/record", &crack(&state));
    let after = json_of(&mut pocket, "GET /api/state", &Value::Null);
    let glance = made["glance"].as_object().expect("what is known");
    for (key, value) in glance {
        assert_eq!(after[key], *value, "{key}");
    }
    assert_eq!(glance["listed"]["records"][0]["label"], "Crack C1");
    assert!(["quantities", "holds", "found"].iter().all(|key| !glance.contains_key(*key)));
    assert_eq!(made["step"], json_of(&mut pocket, "GET /api/text", &Value::Null));
    let view = json_of(&mut pocket, "GET /api/view?name=floor", &Value::Null);
    assert_eq!(made["drawing"], view["svg"]);
    assert_eq!(glance["drawn"], view["version"]);
    let first = json_of(&mut pocket, "GET /api/glance", &Value::Null);
    assert_eq!((&first["glance"], &first["drawing"]), (&made["glance"], &made["drawing"]));
    let undone = json_of(&mut pocket, "POST /api/undo", &json!({"number": 1}));
    assert_eq!(undone["glance"]["redo"], json!([1, "Crack C1"]));
    assert_eq!(undone["step"]["text"], SHED);
}

#[test]
fn the_logo_of_the_shop_book_stands_on_the_papers() {
    const LOGO: &[u8] = include_bytes!("../../../sketches/photos/black-adhesive.png");
    let text = SHED.replacen('\n', "\nshop: books/own.yaml\n", 1);
    let job = json!({
        "name": "shed.yaml", "book": "slabwalk_shop: 1\nproposal: {company: Shed and Sons, logo: logo.png}\n",
        "steps": [{"number": 0, "label": "", "text": text}], "at": 0,
    });
    let mut pocket = Pocket::default();
    json_of(&mut pocket, "POST /api/open", &job);
    let drawn = |pocket: &mut Pocket| ask(pocket, "GET /api/paper?name=customer-drawing.pdf", "").1;
    let bare = drawn(&mut pocket);
    let put = |pocket: &mut Pocket, file: &str| {
        let line = format!("POST /api/photo?file={file}\n");
        pocket.answer(&[line.as_bytes(), LOGO].concat());
        drawn(pocket)
    };
    assert_eq!(put(&mut pocket, "logo.png"), bare, "named from the folder of the book");
    let with_logo = put(&mut pocket, "books/logo.png");
    assert!(with_logo.len() > bare.len() + 1000, "{} against {}", with_logo.len(), bare.len());
}

#[test]
fn no_request_harms_the_next() {
    let mut pocket = opened(SHED);
    for line in [
        "",
        "\n",
        "GET",
        "POST /api/open",
        "POST /api/record",
        "GET /api/view?name=%ff",
        "\u{1}",
        "GET /api/nothing",
    ] {
        assert!(ask(&mut pocket, line, "{").0 >= 400, "{line}");
    }
    assert_eq!(ask(&mut pocket, "GET /api/state", "").0, 200);
    assert_eq!(ask(&mut Pocket::default(), "GET /api/state", "").0, 409);
}

#[test]
fn what_papers_cant_show_is_said_as_the_program_says_it() {
    const NAMED: &str = "shop: shops/own.yaml\ncracks:\n  - {id: C1, path: [[1', 1'], [4', 5']], width: 1/16}\nphotos:\n  - {item: C1, file: photos/gone.jpg}\n  - {item: C1, file: photos/noise.jpg}\n  - {item: C1, file: ../out.jpg}\n  - {item: C1, file: photos/good.png}\n";
    let text = format!("{SHED}{NAMED}");
    let book = "slabwalk_shop: 1\nproposal: {company: Shed and Sons, logo: sign.png}\n";
    let mut pocket = Pocket::default();
    let job = json!({"name": "shed.yaml", "book": book, "steps": [{"number": 0, "label": "", "text": text}], "at": 0});
    json_of(&mut pocket, "POST /api/open", &job);
    let mut png = std::io::Cursor::new(Vec::new());
    let pixels = image::RgbImage::from_pixel(8, 4, image::Rgb([0, 60, 90]));
    pixels.write_to(&mut png, image::ImageFormat::Png).expect("written");
    let mut bring = |file: &str, bytes: &[u8]| {
        let request = [format!("POST /api/photo?file={file}\n").as_bytes(), bytes].concat();
        assert!(pocket.answer(&request).starts_with(b"200 "), "{file}");
    };
    bring("photos/noise.jpg", b"no picture");
    bring("photos/good.png", &png.into_inner());
    bring("shops/sign.png", b"no picture");
    let told = json_of(&mut pocket, "GET /api/pictures", &Value::Null);
    let rows = told["found"].as_array().expect("a list").iter();
    let rows: Vec<_> =
        rows.map(|f| [&f["message"], &f["hint"], &f["at"]["line"]].map(Value::to_string)).collect();
    let wanted = [
        [
            "\"the logo sign.png is neither PNG nor SVG; the papers have the shop's name without it\"",
            "\"save it as PNG or SVG\"",
            "null",
        ],
        [
            "\"the photo photos/gone.jpg can't be read: it is not kept with the job\"",
            "\"the path is taken from the sketch's own folder: photos/crack.jpg\"",
            "8",
        ],
        [
            "\"the photo photos/noise.jpg is neither JPEG nor PNG\"",
            "\"save it as JPEG or PNG\"",
            "9",
        ],
        [
            "\"the photo ../out.jpg lies outside the sketch's folder and is not opened\"",
            "\"put the photo into the sketch's folder or one below it, and name it from there: photos/crack.jpg\"",
            "10",
        ],
    ];
    assert_eq!(rows, wanted);
}
