//! When the piece was made, and what on it is later, with a scale of years.

use super::matter::Matter;
use super::svg::Svg;
use serde::Serialize;
use tellmark_job::advice::{Dated, DatingHeld, RelativeHeld, Unpaired, Years};
use tellmark_language::model::{DateBound, Dating, Region};
use tellmark_language::words::{self, capital, figure, list, some_of};

/// A feature that speaks of the age of a part.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Speaks {
    /// The sentence of the rules, as it is understood.
    pub says: String,
    /// The parts that it holds for.
    pub parts: String,
    /// What the piece would be without it.
    pub without: String,
    /// Its years, drawn on the scale.
    pub drawn: String,
}

/// A part whose age something speaks of.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct MadePart {
    /// "Drawer 3: probably not original (12 in 100), made from 1790 to 1849".
    pub says: String,
    /// Whether it is likelier later than original.
    pub later: bool,
    /// Its years, drawn on the scale.
    pub drawn: String,
}

/// A fitting that fits no trace, a trace that no fitting fits, or parts that are dated beside
/// what they are built into.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Unfit {
    /// "Drawer 3 has lost a handle", "Handle 1 of drawer 2: probably not original (12 in
    /// 100)".
    pub says: String,
    /// The lines of the record behind it.
    pub findings: Vec<String>,
    /// The sentence of the rules, as it is understood.
    pub rule: String,
}

/// When it was made.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Made {
    /// "from 1750 to 1789"; empty if nothing names a year.
    pub years: String,
    /// Where it is taken to have been made: "Britain"; empty if that is left open.
    pub place: String,
    /// What cannot be original, in a sentence; empty if everything can be.
    pub later: String,
    /// The years along the scale.
    pub axis: String,
    /// The piece's decades, each as high as it is likely.
    pub drawn: String,
    /// Part by part.
    pub parts: Vec<MadePart>,
    /// What it rests on.
    pub speaks: Vec<Speaks>,
    /// Parts that are dated beside what they are built into.
    pub beside: Vec<Unfit>,
    /// Fittings that fit no trace.
    pub fittings: Vec<Unfit>,
    /// Traces that no fitting fits.
    pub traces: Vec<Unfit>,
    /// A sentence on features that speak of other countries only; may be empty.
    pub elsewhere: String,
}

/// `None` if nothing speaks of when it was made.
pub(super) fn made(matter: &Matter<'_>, dated: &Dated) -> Option<Made> {
    let model = matter.model();
    let speaks: Vec<(&DatingHeld, &Dating)> = dated
        .held
        .iter()
        .filter_map(|held| Some((held, model.datings.get(held.dating)?)))
        .filter(|(_, dating)| years_of(&dating.bound).is_some())
        .collect();
    let says_nothing = dated.fittings.is_empty() && dated.traces.is_empty();
    if speaks.is_empty() && says_nothing && dated.relative.is_empty() {
        return None;
    }
    let scale = Scale::over(dated, speaks.iter().map(|(_, dating)| &dating.bound));
    let names_a_year = !speaks.is_empty();
    let unfit = |unpaired: &Unpaired| unfit(matter, unpaired);
    Some(Made {
        years: if names_a_year {
            span(dated.made)
        } else {
            String::new()
        },
        place: match matter.made_in {
            None => "",
            Some(Region::British) => "Britain",
            Some(Region::American) => "America",
        }
        .to_owned(),
        later: later(dated),
        axis: scale.axis(),
        drawn: scale.decades(dated),
        parts: parts(dated, &scale),
        speaks: speaks
            .into_iter()
            .map(|(held, dating)| Speaks {
                says: words::dating(model, dating),
                parts: list(&held.parts),
                without: span(held.without),
                drawn: scale.bound(&dating.bound),
            })
            .collect(),
        beside: dated
            .relative
            .iter()
            .map(|held| beside(matter, held))
            .collect(),
        fittings: dated.fittings.iter().map(unfit).collect(),
        traces: dated.traces.iter().map(unfit).collect(),
        elsewhere: elsewhere(dated),
    })
}

/// A sentence on parts that must be later than the rest; empty if none must.
fn later(dated: &Dated) -> String {
    match &dated.later {
        None => String::new(),
        Some(Ok(later)) => format!(
            "Not all of it can be original. The dates agree if only {} {} later; then the piece \
             is of {} at the latest.",
            list(&later.parts),
            if later.parts.len() == 1 { "is" } else { "are" },
            later.until
        ),
        Some(Err(())) => "The dates do not agree, whichever parts are later: something found on \
                          one part contradicts something else found on it."
            .to_owned(),
    }
}

/// The parts of which something is known.
fn parts(dated: &Dated, scale: &Scale) -> Vec<MadePart> {
    let parts = dated.parts.iter().map(|part| {
        let later = part.original < 0.5;
        MadePart {
            says: format!(
                "{}: {} original ({}), made {}",
                capital(&part.name),
                words::sureness_word(part.original),
                figure(part.original),
                span(part.made)
            ),
            later,
            drawn: scale.bar(part.made, if later { "later" } else { "years" }),
        }
    });
    parts.collect()
}

/// A fitting that fits no trace, or a trace that no fitting fits.
fn unfit(matter: &Matter<'_>, unpaired: &Unpaired) -> Unfit {
    let model = matter.model();
    let dating = model.datings.get(unpaired.dating);
    let says = match dating.map(|dating| &dating.bound) {
        Some(DateBound::Lost(what)) => format!("{} has lost {}", unpaired.part, words::a(what)),
        _ => format!(
            "{}: {} original ({})",
            unpaired.part,
            words::sureness_word(unpaired.original),
            figure(unpaired.original)
        ),
    };
    Unfit {
        says: capital(&says),
        findings: unpaired
            .from
            .iter()
            .map(|&from| matter.written_of_found(from))
            .collect(),
        rule: dating.map_or_else(String::new, |dating| words::dating(model, dating)),
    }
}

/// Parts that are dated beside what they are built into.
fn beside(matter: &Matter<'_>, held: &RelativeHeld) -> Unfit {
    let model = matter.model();
    let parts = held.parts.iter().map(|(part, original)| {
        let sure = words::sureness_word(*original);
        format!("{part}: {sure} original ({})", figure(*original))
    });
    let relative = model.relatives.get(held.relative);
    Unfit {
        says: capital(&list(&parts.collect::<Vec<_>>())),
        findings: held
            .from
            .iter()
            .map(|&from| matter.written_of_found(from))
            .collect(),
        rule: relative.map_or_else(String::new, |said| words::relative(model, said)),
    }
}

/// A sentence on features that speak of other countries only; may be empty.
fn elsewhere(dated: &Dated) -> String {
    match u32::try_from(dated.elsewhere).unwrap_or(u32::MAX) {
        0 => String::new(),
        some => format!(
            "{} left out.",
            capital(&some_of(
                some,
                "feature that dates work of another country is",
                "features that date work of another country are"
            ))
        ),
    }
}

/// "from 1730 to 1769".
fn span((from, to): Years) -> String {
    format!("from {from} to {to}")
}

/// The years that a dating names; `None` if it names none.
fn years_of(bound: &DateBound) -> Option<[u16; 2]> {
    match *bound {
        DateBound::NotEarlier(year) | DateBound::NotLater(year) => Some([year, year]),
        DateBound::Usually(from, to) => Some([from, to]),
        DateBound::LaterThan(_) | DateBound::Lost(_) => None,
    }
}

/// A line of years, as wide as the page has room.
struct Scale {
    from: u16,
    to: u16,
}

impl Scale {
    /// The scale on which everything that speaks of a date has its place.
    fn over<'b>(dated: &Dated, bounds: impl Iterator<Item = &'b DateBound>) -> Scale {
        let mut years = vec![dated.made.0, dated.made.1];
        years.extend(dated.parts.iter().flat_map(|p| [p.made.0, p.made.1]));
        years.extend(dated.decades.iter().map(|(year, _)| *year));
        years.extend(bounds.filter_map(years_of).flatten());
        let first = years.iter().copied().min().unwrap_or(1700);
        let last = years.iter().copied().max().unwrap_or(1900);
        Scale {
            from: (first / 10 * 10).saturating_sub(10),
            to: (last / 10 * 10).saturating_add(20),
        }
    }

    /// How far along a year is, of a hundred.
    fn at(&self, year: u16) -> f64 {
        let (from, to) = (f64::from(self.from), f64::from(self.to));
        (100.0 * (f64::from(year) - from) / (to - from)).clamp(0.0, 100.0)
    }

    /// Years with a line through every row: never more than fit on a telephone.
    fn marked(&self) -> impl Iterator<Item = u16> {
        const MOST: u16 = 6;
        let long = self.to - self.from;
        let step = [10, 20, 50, 100]
            .into_iter()
            .find(|step| long / step <= MOST);
        let step = step.unwrap_or(200);
        let (first, to) = (self.from.next_multiple_of(step), self.to);
        (first..to).step_by(usize::from(step))
    }

    fn row(&self) -> Svg {
        let mut svg = Svg::default();
        for year in self.marked() {
            let x = self.at(year);
            svg.shape(
                "line",
                &format!("x1='{x:.2}%' x2='{x:.2}%' y1='0' y2='100%' class='grid'"),
            );
        }
        svg
    }

    fn axis(&self) -> String {
        let mut svg = self.row();
        for year in self.marked() {
            let x = self.at(year);
            svg.text(
                &format!("x='{x:.2}%' y='12' dx='3' class='year'"),
                &year.to_string(),
            );
        }
        let label = format!("Years {} to {}", self.from, self.to);
        svg.finish("width='100%' height='16' class='scale'", &label)
    }

    fn rect(&self, svg: &mut Svg, (from, to): (f64, f64), (top, height): (f64, f64), class: &str) {
        let width = (to - from).max(0.4);
        svg.shape(
            "rect",
            &format!(
                "x='{from:.2}%' width='{width:.2}%' y='{top:.1}' height='{height:.1}' class='{class}'"
            ),
        );
    }

    /// Years from the first of one to the end of the other.
    fn bar(&self, (from, to): Years, class: &str) -> String {
        let mut svg = self.row();
        let ends = (self.at(from), self.at(to.saturating_add(1)));
        self.rect(&mut svg, ends, (4.0, 8.0), class);
        svg.finish("width='100%' height='16' class='scale'", &span((from, to)))
    }

    fn bound(&self, bound: &DateBound) -> String {
        let mut svg = self.row();
        let (ends, edge, label) = match *bound {
            DateBound::NotEarlier(year) => (
                (self.at(year), 100.0),
                Some(self.at(year)),
                format!("{year} or later"),
            ),
            DateBound::NotLater(year) => {
                let end = self.at(year.saturating_add(1));
                ((0.0, end), Some(end), format!("{year} or earlier"))
            }
            DateBound::Usually(from, to) => (
                (self.at(from), self.at(to.saturating_add(1))),
                None,
                format!("mostly {from} to {to}"),
            ),
            DateBound::LaterThan(_) | DateBound::Lost(_) => return String::new(),
        };
        self.rect(&mut svg, ends, (4.0, 8.0), "speaks");
        if let Some(x) = edge {
            svg.shape(
                "line",
                &format!("x1='{x:.2}%' x2='{x:.2}%' y1='1' y2='15' class='edge'"),
            );
        }
        svg.finish("width='100%' height='16' class='scale'", &label)
    }

    fn decades(&self, dated: &Dated) -> String {
        const HIGH: f64 = 40.0;
        let mut svg = self.row();
        let most = dated
            .decades
            .iter()
            .map(|d| d.1)
            .fold(f64::MIN_POSITIVE, f64::max);
        for &(year, chance) in &dated.decades {
            let ends = (self.at(year), self.at(year.saturating_add(10)));
            let height = (chance / most * HIGH).max(1.0);
            self.rect(&mut svg, ends, (HIGH - height, height), "decade");
        }
        let (from, to) = (
            self.at(dated.made.0),
            self.at(dated.made.1.saturating_add(1)),
        );
        self.rect(&mut svg, (from, to), (HIGH + 3.0, 5.0), "years");
        let label = format!("The piece: {}", span(dated.made));
        svg.finish("width='100%' height='50' class='scale'", &label)
    }
}
