//! The woods that furniture is made of: how they move, how dense and how stiff they are.
//!
//! Sources: Forest Products Laboratory, *Wood Handbook*, FPL-GTR-190 (2010), Tables 4-3 and
//! 4-4 (shrinkage), 13-5 (coefficients), 5-3 and 5-5 (strength); R. B. Hoadley, "Chemical and
//! Physical Properties of Wood", in Dardes and Rothe (eds), *The Structural Conservation of
//! Panel Paintings*, Getty Conservation Institute 1998, Table 1 (European woods, as averages
//! of the genus). European woods are not in the handbook's tables of strength: for those the
//! nearest American wood stands in, and [`Strength::stands_in`] says which.

use super::{Quantity, Refused, Source};

/// Shrinkage and coefficients, as one source has them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Movement {
    /// Across the rings, green to oven-dry, %. Of a source that prints only coefficients it is
    /// the shrinkage that they come from.
    pub radial: f32,
    /// Along the rings, green to oven-dry, %; likewise.
    pub tangential: f32,
    /// For 1 % of moisture between 6 and 14 %, where the source prints it.
    pub coefficients: Option<Coefficients>,
    /// Where it is from.
    pub source: Source,
}

/// Change of size for 1 % of moisture, as a fraction.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Coefficients {
    /// Across the rings.
    pub radial: f32,
    /// Along the rings.
    pub tangential: f32,
}

/// Whether a wood is hard or soft, in the sense of the tables: broadleaved or conifer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Grain {
    /// From a broadleaved tree.
    Hard,
    /// From a conifer.
    Soft,
}

/// How dense and how stiff a wood is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Strength {
    /// Specific gravity: oven-dry mass over volume at 12 % of moisture.
    pub gravity: f32,
    /// Modulus of elasticity in bending at 12 %, MPa.
    pub stiffness: f32,
    /// The wood whose figures these are, if they are not its own.
    pub stands_in: Option<&'static str>,
    /// Where it is from.
    pub source: Source,
}

/// A wood.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wood {
    /// What it is called.
    pub name: &'static str,
    /// Other names for it.
    pub also: &'static [&'static str],
    /// Broadleaved or conifer.
    pub grain: Grain,
    /// How it moves, by the first source.
    pub movement: Movement,
    /// The same by other sources, where they disagree.
    pub movement_elsewhere: &'static [Movement],
    /// How dense and stiff it is, if a table says.
    pub strength: Option<Strength>,
}

impl Strength {
    /// Density at 12 % of moisture, kg/m³: the dry wood and its water.
    #[must_use]
    pub fn density(&self) -> f32 {
        self.gravity * 1.12 * 1000.0
    }
}

impl Wood {
    /// The wood that is called so, in whatever case.
    #[must_use]
    pub fn named(name: &str) -> Option<&'static Wood> {
        let is_so = |other: &&str| other.eq_ignore_ascii_case(name);
        WOODS
            .iter()
            .find(|wood| is_so(&wood.name) || wood.also.iter().any(is_so))
    }
}

/// Specific gravity at 12 % of moisture or another (%), from that of green volume.
///
/// Source: *Wood Handbook* (2010) ch. 4, and ASTM D2395. It gives the tables to within 3 %.
///
/// # Errors
///
/// A gravity outside 0.1 to 1.2, a moisture outside 0 to 30 %.
pub fn gravity_at(green: f32, moisture: f32) -> Result<f32, Refused> {
    let green = Quantity::Gravity.within(green, 0.1, 1.2)?;
    let moisture = Quantity::Moisture.within(moisture, 0.0, 30.0)?;
    let dried = (30.0 - moisture) / 30.0;
    Ok(green / (1.0 - 0.265 * dried * green))
}

const T4_3: &str = "Wood Handbook FPL-GTR-190 (2010), Table 4-3";
const T4_3_AND_13_5: &str = "Wood Handbook FPL-GTR-190 (2010), Tables 4-3 and 13-5";
const T4_4: &str = "Wood Handbook FPL-GTR-190 (2010), Table 4-4";
const T13_5: &str = "Wood Handbook FPL-GTR-190 (2010), Table 13-5";
const T5_3: &str = "Wood Handbook FPL-GTR-190 (2010), Table 5-3";
const T5_5: &str = "Wood Handbook FPL-GTR-190 (2010), Table 5-5";
const GETTY: &str = "R. B. Hoadley, in The Structural Conservation of Panel Paintings (Getty \
                     1998), Table 1, average of the genus";

/// Shrinkage across and along the rings.
const fn shrinks(radial: f32, tangential: f32, source: Source) -> Movement {
    Movement {
        radial,
        tangential,
        coefficients: None,
        source,
    }
}

/// The same with the coefficients of Table 13-5.
const fn moves(shrinkage: (f32, f32), coefficients: (f32, f32), source: Source) -> Movement {
    Movement {
        radial: shrinkage.0,
        tangential: shrinkage.1,
        coefficients: Some(Coefficients {
            radial: coefficients.0,
            tangential: coefficients.1,
        }),
        source,
    }
}

/// Gravity and stiffness of the wood itself.
const fn strong(gravity: f32, stiffness: f32, source: Source) -> Option<Strength> {
    Some(Strength {
        gravity,
        stiffness,
        stands_in: None,
        source,
    })
}

/// Gravity and stiffness of the nearest wood that is in the tables.
const fn as_strong_as(
    other: &'static str,
    gravity: f32,
    stiffness: f32,
    source: Source,
) -> Option<Strength> {
    Some(Strength {
        gravity,
        stiffness,
        stands_in: Some(other),
        source,
    })
}

const fn wood(
    name: &'static str,
    also: &'static [&'static str],
    grain: Grain,
    movement: Movement,
    strength: Option<Strength>,
) -> Wood {
    Wood {
        name,
        also,
        grain,
        movement,
        movement_elsewhere: &[],
        strength,
    }
}

const WHITE_OAK: (f32, f32) = (0.68, 12_300.0);
const BEECH: (f32, f32) = (0.64, 11_900.0);
const BLACK_WALNUT: (f32, f32) = (0.55, 11_600.0);
const WHITE_ASH: (f32, f32) = (0.60, 12_000.0);
const ELM: (f32, f32) = (0.50, 9_200.0);
const CHERRY: (f32, f32) = (0.50, 10_300.0);
const SUGAR_MAPLE: (f32, f32) = (0.63, 12_600.0);
const BASSWOOD: (f32, f32) = (0.37, 10_100.0);

/// The woods, European ones first.
pub const WOODS: &[Wood] = &[
    wood(
        "oak",
        &["European oak", "English oak"],
        Grain::Hard,
        shrinks(5.2, 10.2, Source::confirmed(GETTY)),
        as_strong_as(
            "white oak",
            WHITE_OAK.0,
            WHITE_OAK.1,
            Source::remembered(T5_3),
        ),
    ),
    wood(
        "walnut",
        &["European walnut", "English walnut"],
        Grain::Hard,
        shrinks(4.3, 6.4, Source::confirmed(GETTY)),
        as_strong_as(
            "black walnut",
            BLACK_WALNUT.0,
            BLACK_WALNUT.1,
            Source::remembered(T5_3),
        ),
    ),
    wood(
        "beech",
        &["European beech"],
        Grain::Hard,
        shrinks(5.8, 11.8, Source::confirmed(GETTY)),
        as_strong_as("American beech", BEECH.0, BEECH.1, Source::confirmed(T5_3)),
    ),
    wood(
        "ash",
        &["European ash"],
        Grain::Hard,
        shrinks(5.2, 8.3, Source::confirmed(GETTY)),
        as_strong_as(
            "white ash",
            WHITE_ASH.0,
            WHITE_ASH.1,
            Source::confirmed(T5_3),
        ),
    ),
    wood(
        "elm",
        &["European elm", "English elm"],
        Grain::Hard,
        shrinks(5.2, 9.1, Source::confirmed(GETTY)),
        as_strong_as("American elm", ELM.0, ELM.1, Source::confirmed(T5_3)),
    ),
    wood(
        "lime",
        &["European lime", "linden"],
        Grain::Hard,
        shrinks(6.8, 9.5, Source::confirmed(GETTY)),
        as_strong_as("basswood", BASSWOOD.0, BASSWOOD.1, Source::confirmed(T5_3)),
    ),
    wood(
        "cherry",
        &["European cherry"],
        Grain::Hard,
        shrinks(4.2, 7.8, Source::confirmed(GETTY)),
        as_strong_as("black cherry", CHERRY.0, CHERRY.1, Source::confirmed(T5_3)),
    ),
    wood(
        "sycamore",
        &["European sycamore", "European maple"],
        Grain::Hard,
        shrinks(4.2, 8.8, Source::confirmed(GETTY)),
        as_strong_as(
            "sugar maple",
            SUGAR_MAPLE.0,
            SUGAR_MAPLE.1,
            Source::remembered(T5_3),
        ),
    ),
    wood(
        "poplar",
        &["European poplar"],
        Grain::Hard,
        shrinks(3.4, 8.5, Source::confirmed(GETTY)),
        None,
    ),
    wood(
        "chestnut",
        &["sweet chestnut", "European chestnut"],
        Grain::Hard,
        shrinks(4.0, 6.8, Source::confirmed(GETTY)),
        as_strong_as("American chestnut", 0.43, 8_500.0, Source::confirmed(T5_3)),
    ),
    wood(
        "Scots pine",
        &["pine", "red deal"],
        Grain::Soft,
        shrinks(4.0, 7.7, Source::confirmed(GETTY)),
        None,
    ),
    wood(
        "spruce",
        &["European spruce", "white deal"],
        Grain::Soft,
        shrinks(3.6, 7.4, Source::confirmed(GETTY)),
        None,
    ),
    wood(
        "fir",
        &["European fir"],
        Grain::Soft,
        shrinks(3.8, 7.6, Source::confirmed(GETTY)),
        None,
    ),
    wood(
        "larch",
        &["European larch"],
        Grain::Soft,
        shrinks(3.3, 7.8, Source::confirmed(GETTY)),
        None,
    ),
    // Published figures differ by up to 1.7 times.
    Wood {
        name: "mahogany",
        also: &["true mahogany", "Honduras mahogany", "Cuban mahogany"],
        grain: Grain::Hard,
        movement: shrinks(3.0, 4.1, Source::confirmed(T4_4)),
        movement_elsewhere: &[
            shrinks(3.2, 5.1, Source::confirmed(GETTY)),
            moves((4.99, 6.81), (0.00172, 0.00238), Source::doubtful(T13_5)),
        ],
        // Green gravity 0.45, brought to 12 %.
        strength: strong(0.4847, 10_300.0, Source::remembered(T5_5)),
    },
    wood(
        "African mahogany",
        &["khaya"],
        Grain::Hard,
        shrinks(2.5, 4.5, Source::confirmed(T4_4)),
        None,
    ),
    Wood {
        name: "teak",
        also: &[],
        grain: Grain::Hard,
        movement: shrinks(2.5, 5.8, Source::remembered(T4_4)),
        movement_elsewhere: &[moves(
            (2.97, 5.38),
            (0.00101, 0.00186),
            Source::remembered(T13_5),
        )],
        // Green gravity 0.55, brought to 12 %.
        strength: strong(0.6027, 10_700.0, Source::confirmed(T5_5)),
    },
    wood(
        "Brazilian rosewood",
        &["rosewood"],
        Grain::Hard,
        shrinks(2.9, 4.6, Source::remembered(T4_4)),
        // Green gravity 0.80, brought to 12 %.
        strong(0.9166, 13_000.0, Source::remembered(T5_5)),
    ),
    wood(
        "Indian rosewood",
        &[],
        Grain::Hard,
        shrinks(2.7, 5.8, Source::remembered(T4_4)),
        // Green gravity 0.75, brought to 12 %.
        strong(0.8515, 12_300.0, Source::remembered(T5_5)),
    ),
    // Table 13-5 has coefficients of commercial groups, Table 4-3 the shrinkage of species, which
    // is another.
    Wood {
        name: "white oak",
        also: &["American white oak"],
        grain: Grain::Hard,
        movement: moves((5.21, 10.2), (0.00180, 0.00365), Source::confirmed(T13_5)),
        movement_elsewhere: &[shrinks(5.6, 10.5, Source::confirmed(T4_3))],
        strength: strong(WHITE_OAK.0, WHITE_OAK.1, Source::remembered(T5_3)),
    },
    Wood {
        name: "red oak",
        also: &["Northern red oak", "American red oak"],
        grain: Grain::Hard,
        movement: moves((4.6, 10.3), (0.00158, 0.00369), Source::confirmed(T13_5)),
        movement_elsewhere: &[shrinks(4.0, 8.6, Source::remembered(T4_3))],
        strength: strong(0.63, 12_500.0, Source::remembered(T5_3)),
    },
    wood(
        "black walnut",
        &["American walnut"],
        Grain::Hard,
        moves(
            (5.5, 7.8),
            (0.00190, 0.00274),
            Source::confirmed(T4_3_AND_13_5),
        ),
        strong(BLACK_WALNUT.0, BLACK_WALNUT.1, Source::remembered(T5_3)),
    ),
    wood(
        "black cherry",
        &["American cherry"],
        Grain::Hard,
        moves(
            (3.7, 7.1),
            (0.00126, 0.00248),
            Source::confirmed(T4_3_AND_13_5),
        ),
        strong(CHERRY.0, CHERRY.1, Source::confirmed(T5_3)),
    ),
    wood(
        "American beech",
        &[],
        Grain::Hard,
        moves(
            (5.5, 11.9),
            (0.00190, 0.00431),
            Source::confirmed(T4_3_AND_13_5),
        ),
        strong(BEECH.0, BEECH.1, Source::confirmed(T5_3)),
    ),
    wood(
        "white ash",
        &["American ash"],
        Grain::Hard,
        moves(
            (4.9, 7.8),
            (0.00169, 0.00274),
            Source::confirmed(T4_3_AND_13_5),
        ),
        strong(WHITE_ASH.0, WHITE_ASH.1, Source::confirmed(T5_3)),
    ),
    wood(
        "American elm",
        &[],
        Grain::Hard,
        moves(
            (4.2, 9.5),
            (0.00144, 0.00338),
            Source::confirmed(T4_3_AND_13_5),
        ),
        strong(ELM.0, ELM.1, Source::confirmed(T5_3)),
    ),
    wood(
        "yellow birch",
        &["birch"],
        Grain::Hard,
        moves(
            (7.3, 9.5),
            (0.00256, 0.00338),
            Source::confirmed(T4_3_AND_13_5),
        ),
        strong(0.62, 13_900.0, Source::confirmed(T5_3)),
    ),
    wood(
        "paper birch",
        &[],
        Grain::Hard,
        moves(
            (6.3, 8.6),
            (0.00219, 0.00304),
            Source::confirmed(T4_3_AND_13_5),
        ),
        strong(0.55, 11_000.0, Source::confirmed(T5_3)),
    ),
    wood(
        "sugar maple",
        &["hard maple", "maple"],
        Grain::Hard,
        moves(
            (4.8, 9.9),
            (0.00165, 0.00353),
            Source::confirmed(T4_3_AND_13_5),
        ),
        strong(SUGAR_MAPLE.0, SUGAR_MAPLE.1, Source::remembered(T5_3)),
    ),
    wood(
        "red maple",
        &[],
        Grain::Hard,
        moves(
            (4.0, 8.2),
            (0.00137, 0.00289),
            Source::confirmed(T4_3_AND_13_5),
        ),
        strong(0.54, 11_300.0, Source::confirmed(T5_3)),
    ),
    wood(
        "yellow-poplar",
        &["tulipwood", "tulip poplar", "yellow poplar"],
        Grain::Hard,
        moves(
            (4.6, 8.2),
            (0.00158, 0.00289),
            Source::confirmed(T4_3_AND_13_5),
        ),
        strong(0.42, 10_900.0, Source::remembered(T5_3)),
    ),
    wood(
        "basswood",
        &["American lime"],
        Grain::Hard,
        moves(
            (6.6, 9.3),
            (0.00230, 0.00330),
            Source::confirmed(T4_3_AND_13_5),
        ),
        strong(BASSWOOD.0, BASSWOOD.1, Source::confirmed(T5_3)),
    ),
    wood(
        "American chestnut",
        &[],
        Grain::Hard,
        moves(
            (3.4, 6.7),
            (0.00116, 0.00234),
            Source::confirmed(T4_3_AND_13_5),
        ),
        strong(0.43, 8_500.0, Source::confirmed(T5_3)),
    ),
    wood(
        "longleaf pine",
        &["pitch pine", "yellow pine"],
        Grain::Soft,
        shrinks(5.1, 7.5, Source::remembered(T4_3)),
        strong(0.59, 13_700.0, Source::remembered(T5_3)),
    ),
    wood(
        "Eastern white pine",
        &["white pine"],
        Grain::Soft,
        moves(
            (2.1, 6.1),
            (0.00071, 0.00212),
            Source::remembered(T4_3_AND_13_5),
        ),
        strong(0.35, 8_500.0, Source::remembered(T5_3)),
    ),
    wood(
        "white fir",
        &[],
        Grain::Soft,
        moves(
            (3.3, 7.0),
            (0.00112, 0.00245),
            Source::confirmed(T4_3_AND_13_5),
        ),
        None,
    ),
];
