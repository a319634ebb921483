//! The sums that there are.

/// A sum, for a list of them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Listed {
    /// What it is called.
    pub name: &'static str,
    /// What it says.
    pub about: &'static str,
}

/// All sums, by what is worked on.
pub const SUMS: &[Listed] = &[
    Listed {
        name: "moisture",
        about: "how moist wood becomes in a room, or which room keeps it so",
    },
    Listed {
        name: "movement",
        about: "how far a board or panel swells and shrinks across the grain",
    },
    Listed {
        name: "panel",
        about: "what becomes of a panel that is held and cannot move",
    },
    Listed {
        name: "screw",
        about: "what wood screws hold, drawn out and pushed sideways",
    },
    Listed {
        name: "nail",
        about: "what wire nails hold, drawn out and pushed sideways",
    },
    Listed {
        name: "fall",
        about: "what a fall or flap does to its hinges, and how far supports must reach",
    },
    Listed {
        name: "shelf",
        about: "how far a shelf sags, now and after years",
    },
    Listed {
        name: "tipping",
        about: "what tips a piece with its drawers open, and whether to fix it to the wall",
    },
    Listed {
        name: "solvent",
        about: "mixtures of solvents by their parameters, and series for tests",
    },
    Listed {
        name: "shellac",
        about: "how much flake for a cut, and letting polish down",
    },
    Listed {
        name: "glue",
        about: "how much water for hide glue, and how hot",
    },
    Listed {
        name: "dust",
        about: "wood dust over a day, beside the limits",
    },
];
