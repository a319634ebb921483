//! Messages 270 to 278: measures that are worked out by a sum of the handbook.

use super::{Case, Edit, Level};

pub const CASES: &[Case] = &[
    Case {
        name: "what does not go into a sum",
        number: 270,
        level: Level::Stop,
        edit: Edit::Add(
            "You can measure how wide a leaf is, in mm, from 100 to 900.  Ask: \"How wide?\"\nHow far a leaf is moving is the movement of a board, where the width is how wide it is, the wod is oak, the damp air is 70 % and the dry air is 30 %.",
        ),
        words: "wod",
        text: "\"wod\" does not go into the movement of a board.",
        help: Some(
            "Did you mean \"the wood\"? Into it go the width, the wood, the cut, the damp air and the dry air.",
        ),
    },
    Case {
        name: "a sum given one thing twice",
        number: 271,
        level: Level::Stop,
        edit: Edit::Add(
            "You can measure how wide a leaf is, in mm, from 100 to 900.  Ask: \"How wide?\"\nHow far a leaf is moving is the movement of a board, where the width is how wide it is, the wood is oak, the damp air is 70 % and the dry air is 30 % and the width is 300 mm.",
        ),
        words: "width",
        text: "The width is said twice.",
        help: Some("Take one of the two out."),
    },
    Case {
        name: "a sum that wants more",
        number: 272,
        level: Level::Stop,
        edit: Edit::Add(
            "You can measure how wide a leaf is, in mm, from 100 to 900.  Ask: \"How wide?\"\nHow far a leaf is moving is the movement of a board, where the width is how wide it is, the wood is oak, the damp air is 70 %.",
        ),
        words: "the movement of a board, where the width is how wide it is, the wood is oak, the damp air is 70 %",
        text: "To work out the movement of a board it takes the dry air as well.",
        help: Some(
            "Say it after \"where\": \"… and the … is how long it is\", or with a quantity of your own.",
        ),
    },
    Case {
        name: "a sum of nothing found",
        number: 273,
        level: Level::Stop,
        edit: Edit::Add(
            "You can measure how wide a leaf is, in mm, from 100 to 900.  Ask: \"How wide?\"\nHow far a leaf is moving is the movement of a board, where the width is 300 mm, the wood is oak, the damp air is 70 % and the dry air is 30 %.",
        ),
        words: "the movement of a board, where the width is 300 mm, the wood is oak, the damp air is 70 % and the dry air is 30 %",
        text: "Nothing of what goes into the movement of a board is found on the piece, so it would always come to the same.",
        help: Some(
            "Let at least one be a measure or a choice: \"how long it is\". \"tellmark sum\" works out a single case.",
        ),
    },
    Case {
        name: "a weight for a length",
        number: 274,
        level: Level::Stop,
        edit: Edit::Add(
            "You can measure how wide a leaf is, in mm, from 100 to 900.  Ask: \"How wide?\"\nHow far a leaf is moving is the movement of a board, where the width is how wide it is, the wood is oak, the damp air is 70 kg and the dry air is 30 %.",
        ),
        words: "70 kg",
        text: "The damp air is a share, in %, and this is a weight.",
        help: Some(
            "Say a share, in % there, or name what is found so: \"how long it is\", \"which wood it has\".",
        ),
    },
    Case {
        name: "a wood that nobody knows",
        number: 275,
        level: Level::Stop,
        edit: Edit::Add(
            "You can measure how wide a leaf is, in mm, from 100 to 900.  Ask: \"How wide?\"\nHow far a leaf is moving is the movement of a board, where the width is how wide it is, the wood is oka, the damp air is 70 % and the dry air is 30 %.",
        ),
        words: "oka",
        text: "\"Oka\" is no wood that the handbook knows.",
        help: Some(
            "Did you mean \"oak\"? It knows oak, walnut, beech, ash, elm, lime, cherry, sycamore, poplar, chestnut, Scots pine, spruce, fir, larch, mahogany, African mahogany, teak, Brazilian rosewood, Indian rosewood, white oak, red oak, black walnut, black cherry, American beech, white ash, American elm, yellow birch, paper birch, sugar maple, red maple, yellow-poplar, basswood, American chestnut, longleaf pine, Eastern white pine or white fir.",
        ),
    },
    Case {
        name: "a sum out of its range",
        number: 276,
        level: Level::Stop,
        edit: Edit::Add(
            "You can measure how wide a leaf is, in mm, from 100 to 900.  Ask: \"How wide?\"\nHow far a leaf is moving is the movement of a board, where the width is how wide it is, the wood is oak, the damp air is 170 % and the dry air is 30 %.",
        ),
        words: "the movement of a board, where the width is how wide it is, the wood is oak, the damp air is 170 % and the dry air is 30 %",
        text: "Worked out like this, the movement of a board comes to nothing anywhere: the relative humidity is 170 %, and the sum holds from 0 to 100 %.",
        help: Some(
            "Look at units and at the ends of the measures (\"from … to …\"), or name another wood.",
        ),
    },
    Case {
        name: "a sum with too much left open",
        number: 277,
        level: Level::Stop,
        edit: Edit::Add(
            "You can see which wood a leaf has: oak, walnut, beech, ash, mahogany, white oak, red oak, black walnut, black cherry, sugar maple, red maple or basswood.  Ask: \"Wood?\"\nYou can measure how wide a leaf is, in mm, from 100 to 900.  Ask: \"How wide?\"\nYou can measure how deep a leaf is, in mm, from 100 to 2000.  Ask: \"How deep?\"\nYou can measure how thick a leaf is, in mm, from 3 to 100.  Ask: \"How thick?\"\nYou can measure how heavy a leaf is, in kg, from 0 to 100.  Ask: \"How heavy?\"\nHow far a leaf is moving is the sag of a shelf, where the span is how deep it is, the depth is how wide it is, the thickness is how thick it is, the wood is which wood it has and the load on each metre is how heavy it is.",
        ),
        words: "the sag of a shelf, where the span is how deep it is, the depth is how wide it is, the thickness is how thick it is, the wood is which wood it has and the load on each metre is how heavy it is",
        text: "Too much is left open in the sag of a shelf: its table would have more values than a pack has room for.",
        help: Some(
            "Give one of the measures as a quantity of your own, bring the ends of a measure nearer to each other, or leave woods out that you do not meet.",
        ),
    },
    Case {
        name: "a sum of an owner that has kinds",
        number: 278,
        level: Level::Stop,
        edit: Edit::Add(
            "Parts: tray.\nA tray is a kind of drawer.\nA chest of drawers has 2 trays.\nYou can measure how wide a drawer is, in mm, from 100 to 900.  Ask: \"How wide?\"\nHow far a runner is moving is the movement of a board, where the width is how wide its drawer is, the wood is oak, the damp air is 70 % and the dry air is 30 %.",
        ),
        words: "drawer",
        text: "A tray is a kind of drawer, and each has findings of its own. So this would be worked out in one of the two only.",
        help: Some(
            "Say it of every piece: \"You can measure how damp a piece is kept …\", and \"how damp its piece is kept\" here.",
        ),
    },
];
