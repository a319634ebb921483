//! Measures that are worked out by a sum of the handbook: that the pack has what the handbook
//! says, that what gauges may be out goes through the sum to the chance, that it is not known
//! as long as something is missing, and that every kind of nonsense is refused.
//!
//! The figures are compared with the handbook itself (`tellmark_core::handbook`), whose own are
//! checked against published ones in `core/tests/handbook`.

use tellmark_compile::check::Checked;
use tellmark_compile::room::Room;
use tellmark_core::handbook::GRAVITY;
use tellmark_core::handbook::moisture::equilibrium;
use tellmark_core::handbook::movement::{Cut, of_wood, strain};
use tellmark_core::handbook::shelf::{CREEP, Ends, Shelf};
use tellmark_core::handbook::tipping::{CHILD, Mass, load_that_tips, moment};
use tellmark_core::handbook::woods::Wood;
use tellmark_core::piece::Answer;
use tellmark_language::{Level, words};
use tellmark_tests::dice::Dice;
use tellmark_tests::said::{house, share, with_found};

const RACKS: &str = "\
House rules for racks, version 1.
Pieces: rack.
Parts: plank, tray.
A rack has 1 to 4 planks (usually 2) and a tray.
Source house: our own.
You can measure how damp a rack is kept in summer, in %, from 30 to 95.  Reads to: 3 %
You can measure how dry a rack is kept in winter, in %, from 10 to 80.  Reads to: 3 %
You can see which timber a rack has: oak, mahogany or another timber.
You can measure how long a plank is, in mm, from 300 to 1500.  Reads to: 1.5 mm
You can measure how deep a plank is, in mm, from 100 to 500.  Reads to: 1 mm
You can measure how thick a plank is, in mm, from 6 to 40.  Reads to: 0.8 mm
You can measure how heavy a rack is empty, in kg, from 5 to 100.  Reads to: 2 kg
You can measure how heavy a rack is tray by tray, in kg, from 1 to 60.  Reads to: 1 kg
How far a plank is bowed is the sag of a shelf, where the span is how long it is, the depth is how deep it is, the thickness is how thick it is, the wood is which timber its rack has and the load on each metre is 20 kg.
How far a plank is moving is the movement of a board, where the width is how deep it is, the wood is mahogany, the cut is flat-sawn, the damp air is how damp its rack is kept in summer and the dry air is how dry its rack is kept in winter.
How much a plank is strained is the strain of a held board, where the wood is which timber its rack has, the cut is quartered, the damp air is how damp its rack is kept in summer and the dry air is 30 %.
How steady a rack is pulled open is the steadiness of open drawers, where the weight of the carcase is how heavy it is empty, the distance behind the front feet is 200 mm, the weight of the drawers is how heavy it is tray by tray and the distance that they come out is 250 mm.
A plank may be set without showing it.  On its own: in 2 of 10 cases
";

/// What a plank or a rack was measured at.
struct Found {
    damp: f32,
    dry: f32,
    timber: &'static str,
    long: f32,
    deep: f32,
    thick: f32,
    empty: f32,
    trays: f32,
}

/// In tenths, so that what is noted is what is meant.
fn tenths(dice: &mut Dice, from: u16, to: u16) -> f32 {
    let tenth = 10 * usize::from(from) + dice.below(10 * usize::from(to - from) + 1);
    f32::from(u16::try_from(tenth).expect("small")) / 10.0
}

impl Found {
    fn draw(dice: &mut Dice) -> Self {
        Self {
            damp: tenths(dice, 50, 80),
            dry: tenths(dice, 20, 50),
            timber: *dice.pick(&["oak", "mahogany"]),
            long: tenths(dice, 300, 1500),
            deep: tenths(dice, 100, 500),
            thick: tenths(dice, 6, 40),
            empty: tenths(dice, 5, 100),
            trays: tenths(dice, 1, 60),
        }
    }

    fn notes(&self) -> Vec<String> {
        vec![
            format!("the rack is kept in summer {} % damp", self.damp),
            format!("the rack is kept in winter {} % dry", self.dry),
            format!("the timber of the rack is {}", self.timber),
            format!("plank 2 is {} mm long", self.long),
            format!("plank 2 is {} mm deep", self.deep),
            format!("plank 2 is {} mm thick", self.thick),
            format!("the rack is empty {} kg heavy", self.empty),
            format!("the rack is tray by tray {} kg heavy", self.trays),
        ]
    }

    /// By the handbook: mm, mm, %, %.
    fn by_handbook(&self) -> [f64; 4] {
        let wood = Wood::named(self.timber).expect("a wood");
        let strength = wood.strength.expect("its strength");
        let shelf = Shelf::new(
            self.long,
            self.deep,
            self.thick,
            strength.stiffness,
            Ends::Resting,
        );
        let shelf = shelf.expect("a shelf");
        let own = shelf.own_load(strength.density()).expect("a load");
        let sag = shelf.sag(20.0 * GRAVITY / 1000.0 + own).expect("a sag") * CREEP.1;
        let air = |humidity| equilibrium(20.0, humidity).expect("air");
        let mahogany = Wood::named("mahogany").expect("a wood");
        let moved = of_wood(
            mahogany,
            Cut::Flat,
            self.deep,
            air(self.damp),
            air(self.dry),
        );
        let strained = strain(wood, Cut::Quarter, air(self.damp), air(30.0)).expect("a strain");
        let mass = |kg| Mass {
            kg,
            behind_mm: 200.0,
        };
        let held = moment([mass(self.empty), mass(self.trays).pulled_out(250.0)]).expect("masses");
        let steady = match held > 0.0 {
            true => load_that_tips(held, 250.0).expect("a load") / (CHILD * GRAVITY) * 100.0,
            false => 0.0,
        };
        let moved = moved.expect("a movement").most.abs();
        [sag, moved, strained.most.abs(), steady].map(f64::from)
    }
}

fn rules(more: &str) -> Checked {
    let rules = house(&format!("{RACKS}{more}"));
    let stops = rules.reading.messages.iter();
    let stops: Vec<&str> = stops
        .filter(|m| m.level == Level::Stop)
        .map(|m| m.text.as_str())
        .collect();
    assert!(stops.is_empty(), "{stops:?}");
    rules
}

/// What the pack has for a measure by its words: ticks, and how far they may be out.
fn tabled(rules: &Checked, found: &[&str], kind: &str, phrase: &str) -> Option<(i32, u32)> {
    with_found(rules, "rack", found, |set_up, _| {
        let mut room = Room::<f64>::default();
        let pack = set_up.built.bytes.open().expect("it opens");
        let case = set_up.case(pack, &mut room).expect("it fits");
        let kind = pack.find_kind(kind).expect(kind);
        let ask = pack.find_ask(kind, phrase).expect(phrase);
        let piece = case.inspection.piece();
        let of_kind = (0..piece.parts().len()).filter(|&part| piece.parts()[part].kind == kind);
        let mut answers = of_kind.filter_map(|part| match piece.answer(&pack, part, ask)? {
            Answer::Tabled(ticks, deviation) => Some((ticks, deviation.ticks())),
            _ => None,
        });
        answers.next_back()
    })
}

const WORKED: [(&str, &str, f64); 4] = [
    ("plank", "bowed", 40_000.0),
    ("plank", "moving", 40_000.0),
    ("plank", "strained", 100.0),
    ("rack", "pulled open", 100.0),
];

fn borrowed(notes: &[String]) -> Vec<&str> {
    notes.iter().map(String::as_str).collect()
}

/// A table is as near as the guide says: one part in 50, or a twentieth of a millimetre or of
/// one per cent.
#[test]
fn figures_are_those_of_the_handbook() {
    let rules = rules("");
    let mut dice = Dice::new(14);
    let mut worst = 0.0_f64;
    for _ in 0..400 {
        let found = Found::draw(&mut dice);
        let notes = found.notes();
        for ((kind, phrase, each), exact) in WORKED.iter().zip(found.by_handbook()) {
            let (ticks, _) = tabled(&rules, &borrowed(&notes), kind, phrase).expect(phrase);
            let off = (f64::from(ticks) / each - exact).abs();
            assert!(
                off <= 0.05 + exact / 50.0,
                "{phrase}: {ticks} {exact} {notes:?}"
            );
            if exact > 1.0 {
                worst = worst.max(off / exact);
            }
        }
    }
    assert!(worst > 0.0, "a table that is exact everywhere is none");
}

/// One standard deviation is that of sums of readings that are out as the gauges may be: the
/// handbook itself, 2,000 times for each piece.
#[test]
fn what_gauges_may_be_out_goes_through_the_sum() {
    let rules = rules("");
    let mut dice = Dice::new(15);
    let normal = |dice: &mut Dice| {
        let sum: f64 = (0..12).map(|_| dice.below(1_000_001) as f64 / 1e6).sum();
        sum - 6.0
    };
    #[allow(clippy::cast_possible_truncation)]
    let out = |dice: &mut Dice, value: f32, by: f64| value + (normal(dice) * by) as f32;
    for _ in 0..12 {
        let mut found = Found::draw(&mut dice);
        // Away from the ends, where a sum is refused or comes to nothing.
        found.long = found.long.clamp(500.0, 1400.0);
        found.thick = found.thick.clamp(12.0, 35.0);
        found.empty = found.empty.max(found.trays + 10.0);
        found.damp = found.damp.max(62.0);
        found.dry = found.dry.min(38.0);
        let sampled: Vec<[f64; 4]> = (0..2_000)
            .map(|_| {
                Found {
                    damp: out(&mut dice, found.damp, 3.0),
                    dry: out(&mut dice, found.dry, 3.0),
                    long: out(&mut dice, found.long, 1.5),
                    deep: out(&mut dice, found.deep, 1.0),
                    thick: out(&mut dice, found.thick, 0.8),
                    empty: out(&mut dice, found.empty, 2.0),
                    trays: out(&mut dice, found.trays, 1.0),
                    ..found
                }
                .by_handbook()
            })
            .collect();
        let notes = found.notes();
        for (at, (kind, phrase, each)) in WORKED.iter().enumerate() {
            let (_, out_by) = tabled(&rules, &borrowed(&notes), kind, phrase).expect(phrase);
            let out_by = f64::from(out_by) / each;
            let mean = sampled.iter().map(|s| s[at]).sum::<f64>() / 2_000.0;
            let square = |s: &[f64; 4]| (s[at] - mean) * (s[at] - mean);
            let deviation = (sampled.iter().map(square).sum::<f64>() / 2_000.0).sqrt();
            // To the first order: a reading of 12 mm out by 0.8 is bent a good deal already.
            let near = 0.12 * deviation + 0.02;
            assert!(
                (out_by - deviation).abs() < near,
                "{phrase}: {out_by} {deviation} {notes:?}"
            );
        }
    }
}

/// It does to the chance what a measure does that somebody reads off, out by as much.
#[test]
fn it_is_a_measure_like_any_other() {
    let reads = "\
A plank counts as overloaded when it is bowed at least 5 mm.  On its own: in 1 of 10 cases
If a plank is set then it is usually overloaded.  From: house
";
    let worked = rules(reads);
    let notes: Vec<String> = [
        "the timber of the rack is oak",
        "plank 1 is 1050 mm long",
        "plank 1 is 250 mm deep",
        "plank 1 is 18 mm thick",
    ]
    .map(str::to_owned)
    .to_vec();
    let found = borrowed(&notes);
    let (ticks, out_by) = tabled(&worked, &found, "plank", "bowed").expect("bowed");
    let in_mm = |ticks: f64| ticks / 40_000.0;
    let (least, most) = {
        let mut ends = (0, 0);
        for sign in &worked.reading.model.signs {
            if let tellmark_language::model::Asks::HowMuch {
                phrase,
                least,
                most,
                ..
            } = &sign.asks
                && phrase == "bowed"
            {
                ends = (*least, *most);
            }
        }
        ends
    };
    let start = RACKS.find("How far a plank is bowed").expect("there");
    let end = start + RACKS[start..].find('\n').expect("there");
    let asked = house(&format!(
        "{}You can measure how far a plank is bowed, in mm, from {} to {}.  Reads to: {} mm{}{reads}",
        &RACKS[..start],
        in_mm(least.into()),
        in_mm(most.into()),
        in_mm(out_by.into()),
        &RACKS[end..],
    ));
    let set = "plank 1 is set";
    let by_hand = format!("plank 1 is bowed {} mm", in_mm(ticks.into()));
    let one = share(&worked, "rack", &found, set);
    let other = share(&asked, "rack", &[&by_hand], set);
    assert!((one - other).abs() < 1e-9, "{one} {other}");
    assert!((one - 0.2).abs() > 0.02, "it moves the chance: {one}");
}

#[test]
fn nothing_is_worked_out_of_what_is_not_known() {
    let rules = rules("");
    let found = Found::draw(&mut Dice::new(16));
    let notes = found.notes();
    for (missing, phrases) in [
        (2, &["bowed", "strained"][..]),
        (3, &["bowed"]),
        (0, &["moving", "strained"]),
        (1, &["moving"]),
    ] {
        let mut rest = notes.clone();
        rest.remove(missing);
        for (kind, phrase, _) in WORKED {
            let is_known = tabled(&rules, &borrowed(&rest), kind, phrase).is_some();
            assert_eq!(
                is_known,
                !phrases.contains(&phrase),
                "{phrase} without {missing}"
            );
        }
    }
    // A timber that the handbook does not know.
    let mut other = notes.clone();
    other[2] = "the timber of the rack is another timber".to_owned();
    assert_eq!(tabled(&rules, &borrowed(&other), "plank", "bowed"), None);
    assert!(tabled(&rules, &borrowed(&other), "plank", "moving").is_some());
    // What is noted of the rack is there for every plank, whenever it is noted.
    let mut late = notes.clone();
    late.rotate_left(3);
    let late = tabled(&rules, &borrowed(&late), "plank", "moving");
    assert_eq!(late, tabled(&rules, &borrowed(&notes), "plank", "moving"));
}

#[test]
fn what_is_said_of_its_spread_holds() {
    let text = RACKS.replace("30 %.", "30 %.  Reads to: 0.4 %");
    let rules = house(&text);
    let notes = Found::draw(&mut Dice::new(17)).notes();
    with_found(&rules, "rack", &borrowed(&notes), |set_up, _| {
        let mut room = Room::<f64>::default();
        let pack = set_up.built.bytes.open().expect("it opens");
        let case = set_up.case(pack, &mut room).expect("it fits");
        let plank = pack.find_kind("plank").expect("planks");
        let ask = pack.find_ask(plank, "strained").expect("asked");
        let piece = case.inspection.piece();
        let part = (0..piece.parts().len()).rfind(|&part| piece.parts()[part].kind == plank);
        let answer = piece.answer(&pack, part.expect("planks"), ask);
        assert!(matches!(answer, Some(Answer::Reading(_))), "{answer:?}");
        assert_eq!(
            answer.expect("it").out_by(pack.ask(usize::from(ask)).form),
            40
        );
    });
}

#[test]
fn it_is_read_back_as_it_was_written() {
    let rules = rules("");
    let model = &rules.reading.model;
    let said: Vec<String> = model
        .signs
        .iter()
        .map(|sign| words::sign_entry(model, sign))
        .collect();
    let bowed = said
        .iter()
        .find(|said| said.contains("plank is bowed"))
        .expect("bowed");
    assert!(
        bowed.contains(
            "the sag of a shelf, where the span is how long it is, the depth is how deep it is, \
             the thickness is how thick it is, the wood is which timber its rack has and the load \
             on each metre is 20 kg (for another timber nothing is worked out)"
        ),
        "{bowed}"
    );
}

#[test]
fn nonsense_is_refused_with_what_to_write() {
    let sag = "the span is how long it is, the depth is how deep it is, the thickness is how thick it is, the wood is oak and the load on each metre is 20 kg";
    let of = |from: &str, to: &str| {
        let changed = sag.replace(from, to);
        assert_ne!(sag, changed, "{from}");
        format!("How far a plank is curved is the sag of a shelf, where {changed}.\n")
    };
    let cases = [
        (of("the span", "the spam"), 270, "the span"),
        (of("the depth", "the span"), 271, "twice"),
        (of("the depth is how deep it is, ", ""), 272, "the depth"),
        (
            "How far a plank is curved is the sag of a shelf, where the span is 900 mm, the depth is 200 mm, the thickness is 18 mm, the wood is oak and the load on each metre is 20 kg.\n".to_owned(),
            273,
            "tellmark sum",
        ),
        (of("20 kg", "20 mm"), 274, "a weight"),
        (of("how deep it is", "how damp its rack is kept in summer"), 274, "a length"),
        (of("how deep it is", "which timber its rack has"), 274, "a length"),
        (of("the wood is oak", "the wood is how deep it is"), 274, "a wood"),
        (of("the wood is oak", "the wood is oka"), 275, "oak"),
        (of("the depth is how deep it is", "the depth is 9000 mm"), 276, "1500 mm"),
        (of("20 kg", "20"), 33, "kg"),
    ];
    for (sentence, number, says) in cases {
        let rules = house(&format!("{RACKS}{sentence}"));
        let stop = rules
            .reading
            .messages
            .iter()
            .find(|m| m.level == Level::Stop);
        let stop = stop.unwrap_or_else(|| panic!("accepted: {sentence}"));
        let all = format!("{} {}", stop.text, stop.help.clone().unwrap_or_default());
        assert_eq!(stop.kind.number(), number, "{sentence}: {all}");
        assert!(all.contains(says), "{says}: {all}");
    }
}
