//! A plan, its hours, a caution and the bench unit make the same of a clause: of a front
//! where there is none, of parts that nobody counted, of a piece of another kind.

use tellmark_compile::room::Room;
use tellmark_core::number::UFloat;
use tellmark_core::shortlist;
use tellmark_core::truth::Truth;
use tellmark_job::advice::{self, Progress};
use tellmark_tests::said::{house, with_found};

const WORDS: &str = "\
House rules for the bench of agreement, version 1.
Pieces: chest, table.
Parts: front, top, surface, drawer, handle.
A chest has a front and 0 to 3 drawers (usually 2).
A table has a top.
A front has a surface.
A top has a surface.
A drawer has 0 to 2 handles (usually 1).
You can see whether a front is scuffed.  On its own: rarely
You can see whether a piece is dulled.
You can see whether a surface is grimy.
You can see whether a handle is loose.
You can see whether a surface is waxed.    On its own: often
You can see whether a surface is bloomed.  On its own: rarely
A surface can be bloomed only if it is waxed.  From: house
You can measure how much a surface is scratched, in mm, from 0 to 5.
You can count the drawers of a chest.
You can count the handles of a drawer.
A front may be softened without showing it.  On its own: rarely
If a front is softened then it is often scuffed.  From: house
";

/// What is made of a clause on a piece of which these things were found.
struct Made {
    plan: Truth,
    hours: Truth,
    caution: bool,
    unit: Truth,
    unit_caution: bool,
}

fn made(clause: &str, piece: &str, found: &[&str]) -> Made {
    let text = format!(
        "{WORDS}Job: rub it down.  Takes: 1 hour\n\
         When {clause} then plan to rub it down.  From: house\n\
         Take care when {clause}: \"Mind it.\"  From: house\n"
    );
    with_found(&house(&text), piece, found, |set_up, _| {
        let pack = set_up.built.bytes.open().expect("opens");
        let progress = Progress::default();
        let plan = advice::plan(set_up, pack, &progress).expect("a plan");
        let quote = advice::quote(set_up, pack, &progress).expect("hours");
        let mut room = Room::<UFloat>::default();
        let mut case = set_up.case(pack, &mut room).expect("set up");
        let jobs = shortlist::jobs(&mut case.inspection);
        let of = |certain: bool, any: bool| match (certain, any) {
            (true, _) => Truth::True,
            (_, true) => Truth::NotKnown,
            _ => Truth::False,
        };
        Made {
            plan: of(
                plan.steps.iter().any(|step| !step.certain.is_empty()),
                !plan.steps.is_empty(),
            ),
            hours: of(
                quote.items.iter().any(|item| item.certain),
                !quote.items.is_empty(),
            ),
            caution: !plan.cautions.is_empty(),
            unit: of(jobs.iter().any(|job| job.sure), !jobs.is_empty()),
            unit_caution: !shortlist::cautions(&mut case.inspection).is_empty(),
        }
    })
}

#[test]
fn of_what_is_not_there_all_make_the_same() {
    const TABLE: &str = "table";
    const CHEST: &str = "chest";
    const BARE: &str = "chest with no drawers";
    let dirty = &["every surface is grimy", "the piece is dulled"][..];
    use Truth::{False, NotKnown, True};
    for (clause, piece, found, wanted) in [
        // A front that is not there.
        (
            "a surface is grimy and its front is scuffed",
            TABLE,
            dirty,
            False,
        ),
        (
            "a surface is grimy and its front is not scuffed",
            TABLE,
            dirty,
            False,
        ),
        (
            "a surface is grimy and its front is possibly softened",
            TABLE,
            dirty,
            False,
        ),
        (
            "a surface is grimy and its front cannot be seen",
            TABLE,
            dirty,
            False,
        ),
        (
            "a surface is grimy and its front is scuffed",
            CHEST,
            dirty,
            NotKnown,
        ),
        (
            "a piece is dulled and its front is not scuffed",
            TABLE,
            dirty,
            False,
        ),
        (
            "a piece is dulled and its front is not scuffed",
            CHEST,
            dirty,
            NotKnown,
        ),
        // A piece of another kind.
        (
            "a surface is grimy and its chest is dulled",
            TABLE,
            &dirty[..1],
            False,
        ),
        (
            "a surface is grimy and its chest is not dulled",
            TABLE,
            &dirty[..1],
            False,
        ),
        (
            "a surface is grimy and its chest is dulled",
            TABLE,
            dirty,
            False,
        ),
        (
            "a surface is grimy and its chest is dulled",
            CHEST,
            &dirty[..1],
            NotKnown,
        ),
        (
            "a surface is grimy and its chest is dulled",
            CHEST,
            dirty,
            True,
        ),
        (
            "a surface is grimy and its chest has fewer than 2 drawers",
            TABLE,
            dirty,
            False,
        ),
        (
            "a surface is grimy and its piece is dulled",
            TABLE,
            dirty,
            True,
        ),
        // Parts that nobody counted, and parts there are none of.
        ("a chest has fewer than 2 drawers", CHEST, dirty, NotKnown),
        ("a chest has at most 3 drawers", CHEST, dirty, True),
        ("a chest has fewer than 2 drawers", BARE, dirty, True),
        ("every handle of a chest is loose", BARE, dirty, True),
        ("any handle of a chest is loose", BARE, dirty, False),
        (
            "a chest has a drawer and every handle of a chest is loose",
            BARE,
            dirty,
            False,
        ),
        ("any handle of a chest is loose", TABLE, dirty, False),
        // What cannot be, as far as is known.
        ("a surface is bloomed", TABLE, dirty, NotKnown),
        (
            "a surface is bloomed",
            TABLE,
            &["every surface is not waxed"],
            False,
        ),
        (
            "a surface is not bloomed",
            TABLE,
            &["every surface is not waxed"],
            True,
        ),
        (
            "a surface is bloomed",
            TABLE,
            &["every surface is waxed"],
            NotKnown,
        ),
        // A measure that nobody took.
        ("a surface is scratched at most 5 mm", TABLE, dirty, True),
        (
            "a surface is scratched more than 2 mm",
            TABLE,
            dirty,
            NotKnown,
        ),
    ] {
        let made = made(clause, piece, found);
        let about = format!("{clause}; {piece}, {found:?}");
        assert_eq!(made.plan, wanted, "plan: {about}");
        assert_eq!(made.hours, wanted, "hours: {about}");
        assert_eq!(made.unit, wanted, "unit: {about}");
        assert_eq!(made.caution, wanted == True, "caution: {about}");
        assert_eq!(made.unit_caution, wanted == True, "unit's caution: {about}");
    }
}
