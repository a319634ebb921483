//! Measures that are worked out by a sum of the handbook: what they come to, and from what.

use tellmark_compile::room::Room;
use tellmark_compile::set_up::{SetUp, part_ref};
use tellmark_core::number::UFloat;
use tellmark_core::pack::{Form, Pack, Working};
use tellmark_core::piece::{Answer, Piece, SetUpError};
use tellmark_language::model::{Asks, By, SignId, Sum, Ticks, Unit};
use tellmark_language::words::{self, quantity_short};

/// A measure of a part that is worked out by a sum of the handbook.
#[derive(Clone, Debug, PartialEq)]
pub struct Reckoned {
    /// Index of the part.
    pub part: usize,
    /// "plank 1".
    pub name: String,
    /// The measure.
    pub sign: SignId,
    /// What it comes to.
    pub ticks: Ticks,
    /// By how much it may be out, one standard deviation.
    pub out_by: u32,
    /// The sum.
    pub sum: Sum,
    /// What went into it, by the places of [`Sum::inputs`]: "900 mm", "oak".
    pub fed: Vec<(usize, String)>,
    /// The answers that it reads: part and ask.
    pub reads: Vec<(usize, u16)>,
}

/// All that are known for a piece, part by part.
///
/// # Errors
/// If the piece cannot be set up.
pub fn reckoned(set_up: &SetUp<'_>, pack: Pack<'_>) -> Result<Vec<Reckoned>, SetUpError> {
    let mut room = Room::<UFloat>::default();
    let case = set_up.case(pack, &mut room)?;
    let piece = case.inspection.piece();
    let mut found = Vec::new();
    for part in 0..piece.parts().len() {
        for row in 0..pack.workings() {
            let working = pack.working(row);
            if working.working != Working::Table {
                continue;
            }
            let answer = piece.answer(&pack, part, working.ask);
            let Some((answer, ticks)) = answer.and_then(|a| Some((a, a.reading()?))) else {
                continue;
            };
            let Some(one) = of_part(set_up, &pack, piece, (part, working.ask), (answer, ticks))
            else {
                continue;
            };
            found.push(one);
        }
    }
    Ok(found)
}

fn of_part(
    set_up: &SetUp<'_>,
    pack: &Pack<'_>,
    piece: &Piece<'_>,
    (part, ask): (usize, u16),
    (answer, ticks): (Answer, Ticks),
) -> Option<Reckoned> {
    let mut signs = (0..).map(SignId).zip(&set_up.model.signs);
    let (sign, worked) = signs.find_map(|(id, sign)| {
        let worked = sign.worked.as_ref().filter(|w| w.handbook.is_some())?;
        (set_up.built.states.ask(id) == ask).then_some((id, worked))
    })?;
    let handbook = worked.handbook.as_ref()?;
    let mut workings = (0..pack.workings()).map(|row| pack.working(row));
    let table = pack.sum_table(workings.find(|working| working.ask == ask)?.table);
    let mut reads = Vec::new();
    let mut values = Vec::new();
    for (axis, of) in table.axes().zip(&worked.of) {
        let at = piece.part_along(pack, part, &axis)?;
        let given = piece.answer(pack, at, axis.head.ask)?;
        reads.push((at, axis.head.ask));
        let asks = &set_up.model.signs.get(of.sign.index())?.asks;
        values.push(match (asks, given) {
            (Asks::Which { values, .. }, Answer::Value(value)) => {
                values.get(usize::from(value))?.clone()
            }
            (Asks::HowMuch { unit, .. }, given) => quantity_short(given.reading()?, *unit),
            _ => return None,
        });
    }
    let value = |by: &By| match by {
        By::Found(of) => values.get(*of).cloned(),
        By::Quantity(ticks, unit) => Some(quantity_short(*ticks, *unit)),
        By::Number(number) => Some(number.to_string()),
        By::Named(name) => Some(name.clone()),
    };
    let fed = handbook.fed.iter();
    let form: Form = pack.ask(usize::from(ask)).form;
    Some(Reckoned {
        part,
        name: words::part_name(
            set_up.model,
            &part_ref(&set_up.built.places, piece.parts(), part),
        ),
        sign,
        ticks,
        out_by: answer.out_by(form),
        sum: handbook.sum,
        fed: fed
            .filter_map(|fed| Some((fed.input, value(&fed.by)?)))
            .collect(),
        reads,
    })
}

impl Reckoned {
    /// "Plank 1 is bowed 2.6 mm, give or take 0.2 mm": rounded to what anybody reads.
    #[must_use]
    pub fn words(&self, model: &tellmark_language::model::Model) -> String {
        let Some(sign) = model.signs.get(self.sign.index()) else {
            return String::new();
        };
        let Asks::HowMuch { unit, .. } = sign.asks else {
            return String::new();
        };
        let quantity = words::quantity(rounded(self.ticks, unit), unit);
        let said = words::measured_words(&sign.asks, &quantity, false);
        let out_by = Ticks::try_from(self.out_by).unwrap_or(Ticks::MAX);
        let out_by = match rounded(out_by, unit) {
            0 => String::new(),
            ticks => format!(", give or take {}", quantity_short(ticks, unit)),
        };
        format!("{} {said}{out_by}", words::capital(&self.name))
    }

    /// "the span is 900 mm, the depth is 250 mm …".
    #[must_use]
    pub fn fed_words(&self) -> String {
        let inputs = self.sum.inputs();
        let one = |(at, value): &(usize, String)| {
            let name = inputs.get(*at).map_or("", |input| input.name);
            format!("the {name} is {value}")
        };
        words::list(&self.fed.iter().map(one).collect::<Vec<_>>())
    }
}

/// To a tenth of a millimetre, a tenth of one per cent, a tenth of a kilogram.
fn rounded(ticks: Ticks, unit: Unit) -> Ticks {
    let tenth = match unit {
        Unit::Percent => 10,
        unit if unit.is_weight() => 1_000,
        unit if unit.is_time() => 1,
        _ => 4_000,
    };
    ticks.saturating_add(tenth / 2).div_euclid(tenth) * tenth
}
