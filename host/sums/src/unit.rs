//! Units by their names.

/// What a quantity is a quantity of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Dimension {
    /// In mm.
    Length,
    /// In °C.
    Temperature,
    /// In %.
    Share,
    /// In kg.
    Mass,
    /// In ml.
    Volume,
    /// In N.
    Force,
    /// Mass along a length, in kg/m.
    Along,
    /// In kg/m³.
    Density,
    /// Dust in the air, in mg/m³.
    Dust,
    /// In h.
    Time,
    /// Flake in alcohol, in g/l.
    Cut,
}

impl Dimension {
    /// What it is called, with its article.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Dimension::Length => "a length",
            Dimension::Temperature => "a temperature",
            Dimension::Share => "a share in per cent",
            Dimension::Mass => "a weight",
            Dimension::Volume => "a volume",
            Dimension::Force => "a force",
            Dimension::Along => "a weight along a length",
            Dimension::Density => "a density",
            Dimension::Dust => "dust in the air",
            Dimension::Time => "a time",
            Dimension::Cut => "grams to the litre",
        }
    }

    /// How it is written, with examples.
    #[must_use]
    pub const fn written(self) -> &'static str {
        match self {
            Dimension::Length => "\"18 mm\", \"1.8 cm\" or \"3/4 in\"",
            Dimension::Temperature => "\"21 C\" or \"70 F\"",
            Dimension::Share => "\"50 %\"",
            Dimension::Mass => "\"5 kg\", \"200 g\" or \"2 lb\"",
            Dimension::Volume => "\"500 ml\", \"1 litre\" or \"1 us pint\"",
            Dimension::Force => "\"50 N\", or as a weight: \"5 kg\" or \"11 lb\"",
            Dimension::Along => "\"20 kg/m\" or \"13 lb/ft\"",
            Dimension::Density => "\"720 kg/m3\" or \"45 lb/ft3\"",
            Dimension::Dust => "\"3 mg/m3\"",
            Dimension::Time => "\"2 h\" or \"30 min\"",
            Dimension::Cut => "\"2 lb\" or \"240 g/l\"",
        }
    }
}

/// A unit: so many of the base unit of its dimension, after something was added.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Unit {
    pub(crate) dimension: Dimension,
    add: f64,
    times: f64,
}

impl Unit {
    /// A number of this unit, in the base unit.
    pub(crate) fn in_base(self, number: f64) -> f64 {
        (number + self.add) * self.times
    }

    /// Whether it is the pound.
    pub(crate) fn is_pound(self) -> bool {
        self.dimension == Dimension::Mass && (self.times - POUND).abs() < f64::EPSILON
    }
}

const POUND: f64 = 0.453_592_37;
const FOOT: f64 = 304.8;
const US_GALLON: f64 = 3_785.411_784;
const UK_GALLON: f64 = 4_546.09;

type Named = (&'static [&'static str], Dimension, f64);

/// Names in small letters.
const UNITS: &[Named] = &[
    (&["mm", "millimetre", "millimetres"], Dimension::Length, 1.0),
    (
        &["cm", "centimetre", "centimetres"],
        Dimension::Length,
        10.0,
    ),
    (&["m", "metre", "metres"], Dimension::Length, 1000.0),
    (
        &["in", "inch", "inches", "\"", "″", "”"],
        Dimension::Length,
        25.4,
    ),
    (
        &["ft", "foot", "feet", "'", "′", "’"],
        Dimension::Length,
        FOOT,
    ),
    (
        &["c", "°c", "deg c", "degrees c", "celsius"],
        Dimension::Temperature,
        1.0,
    ),
    (
        &["%", "per cent", "percent", "% rh", "%rh"],
        Dimension::Share,
        1.0,
    ),
    (&["kg", "kilo", "kilos"], Dimension::Mass, 1.0),
    (&["g", "gram", "grams"], Dimension::Mass, 0.001),
    (&["lb", "lbs", "pound", "pounds"], Dimension::Mass, POUND),
    (&["oz", "ounce", "ounces"], Dimension::Mass, POUND / 16.0),
    (&["stone"], Dimension::Mass, POUND * 14.0),
    (&["ml", "millilitre", "millilitres"], Dimension::Volume, 1.0),
    (&["cl"], Dimension::Volume, 10.0),
    (
        &["l", "litre", "litres", "liter", "liters"],
        Dimension::Volume,
        1000.0,
    ),
    (
        &["us gallon", "us gal", "us gallons"],
        Dimension::Volume,
        US_GALLON,
    ),
    (
        &["us quart", "us qt", "us quarts"],
        Dimension::Volume,
        US_GALLON / 4.0,
    ),
    (
        &["us pint", "us pt", "us pints"],
        Dimension::Volume,
        US_GALLON / 8.0,
    ),
    (&["us fl oz"], Dimension::Volume, US_GALLON / 128.0),
    (
        &["uk gallon", "uk gal", "uk gallons"],
        Dimension::Volume,
        UK_GALLON,
    ),
    (
        &["uk quart", "uk qt", "uk quarts"],
        Dimension::Volume,
        UK_GALLON / 4.0,
    ),
    (
        &["uk pint", "uk pt", "uk pints"],
        Dimension::Volume,
        UK_GALLON / 8.0,
    ),
    (&["uk fl oz"], Dimension::Volume, UK_GALLON / 160.0),
    (&["n", "newton", "newtons"], Dimension::Force, 1.0),
    (&["kgf"], Dimension::Force, 9.806_65),
    (&["lbf"], Dimension::Force, POUND * 9.806_65),
    (&["kg/m"], Dimension::Along, 1.0),
    (&["lb/ft"], Dimension::Along, POUND / FOOT * 1000.0),
    (&["kg/m3", "kg/m³"], Dimension::Density, 1.0),
    (
        &["lb/ft3", "lb/ft³"],
        Dimension::Density,
        POUND / (FOOT * FOOT * FOOT) * 1e9,
    ),
    (&["mg/m3", "mg/m³"], Dimension::Dust, 1.0),
    (&["h", "hour", "hours"], Dimension::Time, 1.0),
    (&["min", "minute", "minutes"], Dimension::Time, 1.0 / 60.0),
    (
        &["g/l", "g/litre", "grams per litre", "g per l"],
        Dimension::Cut,
        1.0,
    ),
];

/// Fahrenheit alone does not begin at nothing.
const FAHRENHEIT: (&[&str], Unit) = (
    &["f", "°f", "deg f", "degrees f", "fahrenheit"],
    Unit {
        dimension: Dimension::Temperature,
        add: -32.0,
        times: 1.0 / 1.8,
    },
);

/// Names that are not one size everywhere, how one is called, and what to write instead.
const NOT_ONE_SIZE: &[(&str, &str, &str)] = &[
    (
        "cup",
        "cup",
        "write it in ml (a US cup is 237 ml, a metric one 250 ml)",
    ),
    (
        "cups",
        "cup",
        "write it in ml (a US cup is 237 ml, a metric one 250 ml)",
    ),
    (
        "gallon",
        "gallon",
        "write \"us gallon\" (3.79 litres) or \"uk gallon\" (4.55 litres)",
    ),
    (
        "gallons",
        "gallon",
        "write \"us gallon\" (3.79 litres) or \"uk gallon\" (4.55 litres)",
    ),
    (
        "gal",
        "gal",
        "write \"us gal\" (3.79 litres) or \"uk gal\" (4.55 litres)",
    ),
    (
        "quart",
        "quart",
        "write \"us quart\" (946 ml) or \"uk quart\" (1,137 ml)",
    ),
    (
        "pint",
        "pint",
        "write \"us pint\" (473 ml) or \"uk pint\" (568 ml)",
    ),
    (
        "pints",
        "pint",
        "write \"us pint\" (473 ml) or \"uk pint\" (568 ml)",
    ),
    (
        "fl oz",
        "fl oz",
        "write \"us fl oz\" (29.6 ml) or \"uk fl oz\" (28.4 ml)",
    ),
    ("ton", "ton", "write it in kg"),
];

/// What stands at the beginning of a text.
pub(crate) enum Found {
    /// A unit, and how many bytes its name takes.
    Unit(Unit, usize),
    /// A name of no one size, and what to write instead.
    NotOneSize(&'static str, &'static str),
}

/// The unit that a text in small letters begins with: the longest name that fits, and ends
/// where a word ends.
pub(crate) fn at_beginning(text: &str) -> Option<Found> {
    let fits = |name: &str| {
        let rest = text.strip_prefix(name)?;
        let ends_in_letter = name.ends_with(char::is_alphanumeric);
        // "20C60%" is two quantities, "5 m3" is none in metres.
        let is_cubed = name.ends_with('m') && rest.starts_with(char::is_numeric);
        let goes_on = |c: char| c.is_alphabetic() || c == '/';
        let is_whole = !(ends_in_letter && (is_cubed || rest.starts_with(goes_on)));
        is_whole.then_some(name.len())
    };
    let plain = UNITS.iter().flat_map(|&(names, dimension, times)| {
        let unit = Unit {
            dimension,
            add: 0.0,
            times,
        };
        names.iter().map(move |name| (*name, unit))
    });
    let fahrenheit = FAHRENHEIT.0.iter().map(|name| (*name, FAHRENHEIT.1));
    let longest = plain
        .chain(fahrenheit)
        .filter_map(|(name, unit)| Some((fits(name)?, unit)))
        .max_by_key(|(length, _)| *length);
    if let Some((length, unit)) = longest {
        return Some(Found::Unit(unit, length));
    }
    let not_one = NOT_ONE_SIZE
        .iter()
        .filter(|(name, ..)| fits(name).is_some());
    not_one
        .max_by_key(|(name, ..)| name.len())
        .map(|&(_, one, instead)| Found::NotOneSize(one, instead))
}
