//! Each sum from what is typed to its answer: published values reach the reader unharmed, and
//! every answer has working, a source, a caution and figures.

use tellmark_sums::fall::{self, Leaf, Weighs};
use tellmark_sums::fastener::{In, Thick, nail, screw};
use tellmark_sums::glue::Much;
use tellmark_sums::movement::{Asked, Between};
use tellmark_sums::shellac::Of;
use tellmark_sums::{Trouble, Worked, dust, glue, moisture, shelf, shellac, solvent, tipping};

/// A figure of a sum, which is whole in all its parts.
#[track_caller]
fn figure(worked: &Worked, name: &str) -> f64 {
    assert!(!worked.answer.is_empty() && !worked.answer.contains('\n'));
    assert!(!worked.working.is_empty() && !worked.sources.is_empty());
    assert!(worked.caution.ends_with('.'), "{}", worked.caution);
    let found = worked.figures.iter().find(|figure| figure.name == name);
    found
        .unwrap_or_else(|| panic!("no figure \"{name}\" in {worked:#?}"))
        .value
}

#[track_caller]
fn near(found: f64, expected: f64, give_or_take: f64) {
    assert!(
        (found - expected).abs() <= give_or_take,
        "{found}, not {expected}"
    );
}

#[test]
fn moisture_of_wood_and_of_air() {
    // Wood Handbook (2010) Eq. (4-5); worked out.
    let worked = moisture::in_air("20 C 50 %").unwrap();
    near(figure(&worked, "moisture"), 9.2711, 0.0005);
    assert_eq!(
        worked.answer,
        "Wood comes to rest at 9.27 % of moisture in air of 20 °C (68 °F) and 50 %."
    );
    let worked = moisture::air_for("12 %", "20 C").unwrap();
    near(figure(&worked, "humidity"), 65.018, 0.002);
    let hot = moisture::in_air("90 C 50 %").unwrap_err().to_string();
    assert!(
        hot.starts_with("The temperature comes to 90 °C, and the sum holds from -1.2 to 60 °C.")
    );
}

#[test]
fn movement_between_climates_and_moistures() {
    // The handbook's own example, 9.15 in of white fir from 8 to 11 %: it prints 0.067 in.
    let fir = Asked {
        wood: "white fir",
        cut: Some("flat"),
        between: Between::Moistures(&["8 %", "11 %"]),
    };
    let (worked, year) = fir.board("232 mm").unwrap();
    near(figure(&worked, "movement most"), 1.7052, 0.0005);
    assert!(
        worked.answer.ends_with("wide, swells by 1.7 mm (0.07 in)."),
        "{}",
        worked.answer
    );
    assert_eq!(year.points.len(), 2);
    let (inches, _) = fir.board("9.15 in").unwrap();
    near(figure(&inches, "movement most"), 0.067 * 25.4, 0.015);
    // There and back again, the way is that between narrowest and widest.
    let there_and_back = Asked {
        between: Between::Moistures(&["8 %", "11 %", "7 %", "8 %"]),
        ..fir
    };
    let (worked, _) = there_and_back.board("100 mm").unwrap();
    near(
        figure(&worked, "movement most"),
        100.0 * 0.00245 * 4.0,
        0.001,
    );
    near(figure(&worked, "change most 3"), -0.245, 0.001);
    // Sources disagree about mahogany, and all of them are named.
    let mahogany = Asked {
        wood: "Mahogany",
        cut: Some("flat"),
        between: Between::Climates(&["20 C 60 %", "20 C 35 %"]),
    };
    let (worked, _) = mahogany.board("500 mm").unwrap();
    let ratio = figure(&worked, "movement most") / figure(&worked, "movement least");
    near(ratio, 1.7, 0.05);
    assert!(
        worked
            .sources
            .iter()
            .any(|source| source.ends_with("(from memory, doubtful)"))
    );
    assert!(
        worked
            .working
            .iter()
            .any(|line| line.starts_with("Sources disagree"))
    );
}

#[test]
fn what_movement_cannot_take() {
    let board = |wood, cut, climates: &[&str]| {
        let asked = Asked {
            wood,
            cut,
            between: Between::Climates(climates),
        };
        asked.board("500 mm").unwrap_err().to_string()
    };
    let two = ["20 C 60 %", "20 C 35 %"];
    let said = board("mahagony", None, &two);
    assert!(said.contains("Did you mean \"mahogany\"?"), "{said}");
    assert!(board("oak", Some("sideways"), &two).contains("I know flat, quarter and unknown."));
    assert!(board("oak", None, &two[..1]).starts_with("It takes at least two"));
    assert!(board("oak", None, &["20 C 50 %"; 13]).contains("which is 12"));
}

#[test]
fn a_held_panel() {
    let asked = Asked {
        wood: "white oak",
        cut: Some("flat"),
        between: Between::Climates(&["20 C 55 %", "22 C 20 %"]),
    };
    let worked = asked.panel().unwrap();
    near(figure(&worked, "strain most"), -2.1147, 0.001);
    assert!(
        worked.answer.contains("expect a split"),
        "{}",
        worked.answer
    );
    let gentle = Asked {
        between: Between::Climates(&["20 C 55 %", "20 C 50 %"]),
        ..asked
    };
    assert!(
        gentle
            .panel()
            .unwrap()
            .answer
            .contains("gives and takes back")
    );
}

fn sound(wood: &str) -> In<'_> {
    In {
        wood,
        sound: None,
        end_grain: false,
    }
}

#[test]
fn screws_and_nails() {
    // Wood Handbook (2010) Eq. (8-10), (8-11), (8-1); worked out with the exact gauge.
    let worked = screw(sound("white oak"), Thick::Shank("4.17 mm"), "25 mm").unwrap();
    near(figure(&worked, "withdrawal"), 5218.2, 0.1);
    near(figure(&worked, "withdrawal to rely on"), 1043.64, 0.05);
    let by_gauge = screw(sound("white oak"), Thick::Gauge("No. 8"), "25 mm").unwrap();
    near(figure(&by_gauge, "withdrawal"), 5218.2 * 4.1656 / 4.17, 0.1);
    let suspect = In {
        sound: Some("suspect"),
        ..sound("white oak")
    };
    let half = screw(suspect, Thick::Shank("4.17 mm"), "25 mm").unwrap();
    near(figure(&half, "withdrawal"), 2609.1, 0.1);
    let end = In {
        end_grain: true,
        ..sound("white oak")
    };
    let end = screw(end, Thick::Shank("4.17 mm"), "25 mm").unwrap();
    near(figure(&end, "withdrawal"), 5218.2 * 0.75, 0.1);
    assert!(end.figures.iter().all(|figure| figure.name != "sideways"));
    let stripped = In {
        sound: Some("0"),
        ..sound("white oak")
    };
    let none = screw(stripped, Thick::Gauge("8"), "25 mm").unwrap();
    assert!(none.answer.contains("holds nothing"), "{}", none.answer);
    // English oak is not in the tables, and the answer says what stands in.
    let oak = screw(sound("oak"), Thick::Gauge("8"), "25 mm").unwrap();
    assert!(
        oak.working
            .iter()
            .any(|line| line.contains("those of white oak"))
    );
    let no_table = screw(sound("larch"), Thick::Gauge("8"), "25 mm").unwrap_err();
    assert!(matches!(no_table, Trouble::NotNamed { .. }));
    let nails = nail(sound("white oak"), "2.87 mm", "38 mm").unwrap();
    near(figure(&nails, "withdrawal"), 2250.6, 0.1);
    near(figure(&nails, "sideways"), 459.6, 0.1);
}

fn mahogany_fall() -> fall::Asked<'static> {
    fall::Asked {
        depth: "450 mm",
        thickness: "20 mm",
        weighs: Weighs::Weight("4.779 kg"),
        hand: None,
        joint: None,
        push_depth: Some("18 mm"),
        supports: None,
        leaf: None,
    }
}

#[test]
fn a_fall_by_its_hinges_and_on_supports() {
    // Statics; worked out.
    let (worked, forces) = mahogany_fall().worked().unwrap();
    near(figure(&worked, "pull at the pin"), 585.82, 0.02);
    near(figure(&worked, "reach needed"), 225.0, 0.01);
    assert!(forces.supports.is_none());
    let leaned_on = fall::Asked {
        hand: Some("50 N"),
        ..mahogany_fall()
    };
    let (worked, _) = leaned_on.worked().unwrap();
    near(figure(&worked, "pull at the pin"), 1835.82, 0.02);
    near(figure(&worked, "reach needed"), 341.1, 0.1);
    let supported = fall::Asked {
        supports: Some("300 mm"),
        ..leaned_on
    };
    let (worked, forces) = supported.worked().unwrap();
    near(figure(&worked, "down on the hinges"), -13.28, 0.01);
    assert!(worked.answer.contains("lifted out"), "{}", worked.answer);
    assert!(forces.by_hinges.is_none());
    // Without a measured push, the safe end is taken.
    let guessed = fall::Asked {
        push_depth: None,
        ..mahogany_fall()
    };
    let (worked, _) = guessed.worked().unwrap();
    near(figure(&worked, "push depth"), 16.0, 0.001);
    let weighed = fall::Asked {
        weighs: Weighs::Wood {
            wood: "mahogany",
            length: "900 mm",
        },
        ..mahogany_fall()
    };
    // 0.4847 × 1.12 t/m³ over 0.9 × 0.45 × 0.02 m.
    let (worked, _) = weighed.worked().unwrap();
    near(figure(&worked, "weight"), 43.12, 0.02);
}

#[test]
fn a_rule_joint_has_no_sum_without_its_support() {
    let rule = fall::Asked {
        joint: Some("rule"),
        ..mahogany_fall()
    };
    let why = rule.worked().unwrap_err();
    assert!(why.is_an_answer());
    assert!(
        why.to_string()
            .starts_with("A rule joint has no stop below its pin, so its leaf needs")
    );
    let supported = fall::Asked {
        supports: Some("300 mm"),
        ..rule
    };
    assert!(supported.worked().is_ok());
    let beyond = fall::Asked {
        supports: Some("460 mm"),
        ..rule
    };
    assert!(!beyond.worked().unwrap_err().is_an_answer());
}

fn leaf(position: &'static str) -> Leaf<'static> {
    Leaf {
        position,
        depth: "20 mm",
        screws_at: &["10 mm"],
        hinges: 2,
        screws_each: 3,
        thick: Thick::Shank("3.51 mm"),
        thread: "15 mm",
        wood: In {
            wood: "mahogany",
            sound: None,
            end_grain: false,
        },
    }
}

#[test]
fn screws_of_a_fall() {
    // Statics and Eq. (8-10); worked out: six No. 6 screws in mahogany, 1,339.0 N each.
    let with_hand = |leaf| fall::Asked {
        hand: Some("50 N"),
        leaf: Some(leaf),
        ..mahogany_fall()
    };
    let (worked, _) = with_hand(leaf("edge")).worked().unwrap();
    near(figure(&worked, "drawn on all screws"), 3671.6, 0.2);
    near(figure(&worked, "drawn on the worst screw"), 856.7, 0.1);
    near(figure(&worked, "one screw comes out at"), 1339.0, 0.1);
    assert!(
        worked
            .answer
            .ends_with("more than the screws may be relied on for.")
    );
    let face = Leaf {
        depth: "25 mm",
        screws_at: &["12 mm"],
        ..leaf("face")
    };
    let (worked, _) = with_hand(face).worked().unwrap();
    near(
        figure(&worked, "sideways on the worst screw"),
        1835.82 * 0.7 / 3.0,
        0.1,
    );
    // What gives sideways is not to be relied on, however little draws the screws.
    assert!(
        figure(&worked, "sideways on the worst screw")
            > figure(&worked, "one screw gives sideways at")
    );
    assert!(
        worked
            .answer
            .ends_with("Sideways that is more than the screws hold, so they give."),
        "{}",
        worked.answer
    );
    let rows = Leaf {
        screws_at: &["5 mm", "15 mm"],
        screws_each: 4,
        ..leaf("edge")
    };
    let (worked, _) = with_hand(rows).worked().unwrap();
    near(figure(&worked, "drawn on all screws"), 1835.82 * 1.6, 0.2);
    // Two screws of a hinge in the worse row, which draws 1.2 of the pull.
    near(
        figure(&worked, "drawn on the worst screw"),
        1835.82 * 1.2 * 0.7 / 2.0,
        0.1,
    );
    let none = Leaf {
        screws_at: &[],
        ..leaf("edge")
    };
    assert!(with_hand(none).worked().is_err());
}

#[test]
fn shelves() {
    // Wood Handbook (2010) Eq. (9-2). Of white oak at 0.68 × 1.12 t/m³ its own weight is a little
    // more than of the 720 kg/m³ that the 0.964 mm go with.
    let asked = shelf::Asked {
        span: "900 mm",
        width: "250 mm",
        thickness: "20 mm",
        wood: "white oak",
        load: "20 kg/m",
        ends: None,
    };
    let worked = shelf::worked(asked).unwrap();
    near(
        figure(&worked, "sag"),
        0.8173 * (1.0 + 0.25 * 0.02 * 761.6 / 20.0),
        0.0005,
    );
    // A weight is spread over the span.
    let spread = shelf::Asked {
        load: "18 kg",
        ..asked
    };
    let same = shelf::worked(spread).unwrap();
    near(figure(&same, "sag"), figure(&worked, "sag"), 1e-5);
    let thin = shelf::Asked {
        thickness: "12 mm",
        ..asked
    };
    assert!(
        shelf::worked(thin)
            .unwrap()
            .answer
            .ends_with("which the eye will notice.")
    );
    let wrong = shelf::Asked {
        load: "20 mm",
        ..asked
    };
    assert!(matches!(shelf::worked(wrong), Err(Trouble::Other { .. })));
}

#[test]
fn tipping_pieces() {
    // Statics; worked out.
    let chest = tipping::Asked {
        carcase: "40 kg",
        behind: "225 mm",
        height: "850 mm",
        middle: Some("430 mm"),
        drawers: 4,
        drawer: Some("5 kg"),
        open: Some(1),
        opens_by: Some("300 mm"),
        is_top_heavy: false,
    };
    let worked = tipping::worked(chest).unwrap();
    near(figure(&worked, "moment"), 117.680, 0.001);
    near(figure(&worked, "pull that tips"), 138.45, 0.01);
    near(figure(&worked, "load on a drawer that tips"), 392.27, 0.01);
    near(figure(&worked, "tilt that tips"), 27.62, 0.005);
    // With all open, a child on one tips it: 73.550 against 80.0 N·m.
    near(figure(&worked, "moment with all open"), 73.550, 0.001);
    assert!(
        worked.answer.ends_with(
            "before it is used: with all drawers open a child of 27.2 kg on one tips it."
        ),
        "{}",
        worked.answer
    );
    let heavy = tipping::Asked {
        carcase: "120 kg",
        ..chest
    };
    let worked = tipping::worked(heavy).unwrap();
    assert!(
        worked
            .answer
            .contains("it stands with a child on it, but it has drawers"),
        "{}",
        worked.answer
    );
    let far = tipping::Asked {
        open: None,
        opens_by: Some("700 mm"),
        ..chest
    };
    let worked = tipping::worked(far).unwrap();
    assert!(
        worked.answer.contains("tips by itself"),
        "{}",
        worked.answer
    );
    for wrong in [
        tipping::Asked {
            open: Some(5),
            ..chest
        },
        tipping::Asked {
            drawer: None,
            ..chest
        },
        tipping::Asked {
            drawers: 0,
            ..chest
        },
    ] {
        assert!(matches!(tipping::worked(wrong), Err(Trouble::Wrong(_))));
    }
    let plain = tipping::Asked {
        drawers: 0,
        drawer: None,
        open: None,
        opens_by: None,
        ..chest
    };
    assert!(
        tipping::worked(plain)
            .unwrap()
            .answer
            .contains("need not be fixed")
    );
}

#[test]
fn jars() {
    // Teas 1968 and Burke 1984, from memory; worked out.
    let mix = solvent::mixture(&["isopropanol 1", "white spirit 3"]).unwrap();
    near(figure(&mix, "Fd"), 77.0, 0.001);
    near(figure(&mix, "Fp"), 7.25, 0.001);
    let target = solvent::to_target("70", "white spirit", "ethanol").unwrap();
    near(figure(&target, "share"), 37.04, 0.005);
    let series = solvent::series("le").unwrap();
    near(figure(&series, "LE5 Fd"), 66.5, 0.001);
    let never = solvent::mixture(&["methylene chloride 1", "ethanol 1"]).unwrap();
    assert!(never.caution.contains("do not use it"), "{}", never.caution);
    let beyond = solvent::to_target("30", "white spirit", "acetone")
        .unwrap_err()
        .to_string();
    assert!(beyond.contains("the sum holds from 47 to 90 %"), "{beyond}");
    assert!(solvent::mixture(&["acetone"]).is_err());
    assert!(solvent::mixture(&["acetone 0"]).is_err());
    assert!(
        solvent::mixture(&["aceton 1"])
            .unwrap_err()
            .to_string()
            .contains("\"acetone\"?")
    );

    // Exact units; worked out.
    let flake = shellac::flake("2 lb", Of::Alcohol("500 ml")).unwrap();
    near(figure(&flake, "flake most"), 119.83, 0.005);
    let down = shellac::down("3 lb", "2 lb", Of::Alcohol("500 ml")).unwrap();
    near(figure(&down, "add most"), 250.0, 0.01);
    let polish = shellac::flake("2 lb", Of::Polish("1 litre")).unwrap();
    near(figure(&polish, "flake least"), 198.0, 0.1);
    let stronger = shellac::down("1 lb", "2 lb", Of::Alcohol("500 ml")).unwrap_err();
    assert!(stronger.to_string().contains("for that, add flake"));

    let joints = glue::mix(Much::Glue("100 g"), None, None).unwrap();
    near(figure(&joints, "water least"), 180.0, 0.001);
    near(figure(&joints, "solids least"), 33.333, 0.001);
    let all = glue::mix(Much::All("280 g"), None, Some("1.8")).unwrap();
    near(figure(&all, "glue"), 100.0, 0.001);
    assert!(glue::mix(Much::Glue("100 g"), Some("size"), Some("2")).is_err());
    assert!(glue::pot("145 F").unwrap().answer.contains("that is right"));
    assert!(
        glue::pot("80 C")
            .unwrap()
            .answer
            .contains("losing strength")
    );

    // EH40; worked out. Over the limit of the EU, within that of Great Britain.
    let day = dust::day(&["6 mg/m3 2 h", "1 mg/m3 6 h"], false).unwrap();
    near(figure(&day, "average over eight hours"), 2.25, 0.001);
    assert!(
        day.answer.contains("over the limits of the European Union"),
        "{}",
        day.answer
    );
    assert!(dust::day(&["1 mg/m3 25 h"], false).is_err());
}
