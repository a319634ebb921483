//! Sums of what screws, hinges, shelves and whole pieces carry.

use super::Done;
use clap::Args;
use std::path::PathBuf;
use tellmark_report::forces_drawing;
use tellmark_sums::fall::{self, Leaf, Weighs};
use tellmark_sums::fastener::{self, In, Thick};
use tellmark_sums::{Trouble, shelf, tipping};

/// Wood that something is fastened in.
#[derive(Args, Debug)]
struct Wood {
    /// The wood
    #[arg(long, value_name = "WOOD")]
    wood: String,
    /// How sound it is: sound, suspect, stripped, or a share from 0 to 1
    #[arg(long, value_name = "HOW", allow_hyphen_values = true)]
    sound: Option<String>,
    /// It goes into end grain
    #[arg(long)]
    end_grain: bool,
}

impl Wood {
    fn read(&self) -> In<'_> {
        In {
            wood: &self.wood,
            sound: self.sound.as_deref(),
            end_grain: self.end_grain,
        }
    }
}

/// By gauge, or else by shank; the parser sees to it that there is one.
fn thick<'a>(gauge: Option<&'a String>, shank: Option<&'a String>) -> Thick<'a> {
    match (gauge, shank) {
        (Some(gauge), _) => Thick::Gauge(gauge),
        (None, shank) => Thick::Shank(shank.map_or("", String::as_str)),
    }
}

/// Say what wood screws hold, drawn out and pushed sideways
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  tellmark sum screw --wood oak --gauge 8 --thread \"25 mm\"\n  \
                  tellmark sum screw --wood mahogany --gauge 6 --thread \"5/8 in\" --sound suspect"
)]
pub(super) struct Screw {
    #[command(flatten)]
    wood: Wood,
    /// The gauge of the screw
    #[arg(
        long,
        value_name = "NUMBER",
        allow_hyphen_values = true,
        required_unless_present = "shank"
    )]
    gauge: Option<String>,
    /// The diameter of its shank, instead of the gauge
    #[arg(
        long,
        value_name = "LENGTH",
        allow_hyphen_values = true,
        conflicts_with = "gauge"
    )]
    shank: Option<String>,
    /// How much of its thread is in the wood
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    thread: String,
}

impl Screw {
    pub(super) fn work(&self) -> Result<Done, Trouble> {
        let thick = thick(self.gauge.as_ref(), self.shank.as_ref());
        Ok(fastener::screw(self.wood.read(), thick, &self.thread)?.into())
    }
}

/// Say what wire nails hold, drawn out and pushed sideways
#[derive(Args, Debug)]
#[command(
    after_help = "Example:\n  tellmark sum nail --wood \"white oak\" --diameter \"2.9 mm\" --in-wood \
                  \"1 1/2 in\""
)]
pub(super) struct Nail {
    #[command(flatten)]
    wood: Wood,
    /// The diameter of the nail
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    diameter: String,
    /// How much of it is in the wood
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    in_wood: String,
}

impl Nail {
    pub(super) fn work(&self) -> Result<Done, Trouble> {
        Ok(fastener::nail(self.wood.read(), &self.diameter, &self.in_wood)?.into())
    }
}

/// Say what a fall or flap does to its hinges, and how far supports must reach
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  tellmark sum fall --depth \"450 mm\" --thickness \"20 mm\" --wood \
                  mahogany --length \"900 mm\" --hand \"5 kg\"\n  tellmark sum fall --depth \"450 mm\" \
                  --thickness \"20 mm\" --weight \"4.8 kg\" --supports \"300 mm\" --svg \
                  fall.svg\n  tellmark sum fall --depth \"450 mm\" --thickness \"20 mm\" --weight \
                  \"4.8 kg\" --leaf edge --leaf-depth \"20 mm\" --screws-at \"10 mm\" --gauge 6 \
                  --thread \"15 mm\" --wood mahogany\n\nA rule joint has no stop, so nothing but its \
                  support holds the leaf: exit code 1."
)]
pub(super) struct Fall {
    /// From the hinge pin to the free edge
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    depth: String,
    /// How thick the fall is
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    thickness: String,
    /// What the fall weighs
    #[arg(
        long,
        value_name = "WEIGHT",
        allow_hyphen_values = true,
        conflicts_with = "length",
        required_unless_present = "length"
    )]
    weight: Option<String>,
    /// Its length along the joint, to weigh it by its wood
    #[arg(
        long,
        value_name = "LENGTH",
        allow_hyphen_values = true,
        requires = "wood"
    )]
    length: Option<String>,
    /// The wood of the fall, and of what the screws are in
    #[arg(long, value_name = "WOOD")]
    wood: Option<String>,
    /// What leans or lies on its free edge
    #[arg(long, value_name = "FORCE", allow_hyphen_values = true)]
    hand: Option<String>,
    /// The joint: square, rule, or open below the pin
    #[arg(long, value_name = "JOINT")]
    joint: Option<String>,
    /// From the pin down to where its edge butts [default: eight tenths of the thickness]
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    push_depth: Option<String>,
    /// How far supports reach from the pin; if not said, there are none
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    supports: Option<String>,
    /// Where the leaves are let in: edge or face
    #[arg(
        long,
        value_name = "WHERE",
        requires_all = ["leaf_depth", "screws_at", "thread", "wood"],
        conflicts_with = "supports"
    )]
    leaf: Option<String>,
    /// How far a leaf goes from the pin
    #[arg(
        long,
        value_name = "LENGTH",
        allow_hyphen_values = true,
        requires = "leaf"
    )]
    leaf_depth: Option<String>,
    /// How far from the pin its screws are; for rows, said for each
    #[arg(
        long,
        value_name = "LENGTH",
        allow_hyphen_values = true,
        requires = "leaf"
    )]
    screws_at: Vec<String>,
    /// How many hinges
    #[arg(long, value_name = "NUMBER", default_value_t = 2)]
    hinges: u8,
    /// How many screws in each leaf
    #[arg(long, value_name = "NUMBER", default_value_t = 3)]
    screws_each: u8,
    /// The gauge of the screws
    #[arg(
        long,
        value_name = "NUMBER",
        allow_hyphen_values = true,
        requires = "leaf"
    )]
    gauge: Option<String>,
    /// The diameter of their shanks, instead of the gauge
    #[arg(
        long,
        value_name = "LENGTH",
        allow_hyphen_values = true,
        requires = "leaf",
        conflicts_with = "gauge"
    )]
    shank: Option<String>,
    /// How much of their thread is in the wood
    #[arg(
        long,
        value_name = "LENGTH",
        allow_hyphen_values = true,
        requires = "leaf"
    )]
    thread: Option<String>,
    /// How sound the wood is: sound, suspect, stripped, or a share from 0 to 1
    #[arg(
        long,
        value_name = "HOW",
        allow_hyphen_values = true,
        requires = "leaf"
    )]
    sound: Option<String>,
    /// Draw the forces into this file
    #[arg(long, value_name = "FILE")]
    svg: Option<PathBuf>,
}

impl Fall {
    pub(super) fn work(&self) -> Result<Done, Trouble> {
        let screws_at: Vec<&str> = self.screws_at.iter().map(String::as_str).collect();
        let wood = self.wood.as_deref().unwrap_or_default();
        let leaf = self.leaf.as_deref().map(|position| Leaf {
            position,
            depth: self.leaf_depth.as_deref().unwrap_or_default(),
            screws_at: &screws_at,
            hinges: self.hinges,
            screws_each: self.screws_each,
            thick: thick(self.gauge.as_ref(), self.shank.as_ref()),
            thread: self.thread.as_deref().unwrap_or_default(),
            wood: In {
                wood,
                sound: self.sound.as_deref(),
                end_grain: false,
            },
        });
        let asked = fall::Asked {
            depth: &self.depth,
            thickness: &self.thickness,
            weighs: match &self.length {
                Some(length) => Weighs::Wood { wood, length },
                None => Weighs::Weight(self.weight.as_deref().unwrap_or_default()),
            },
            hand: self.hand.as_deref(),
            joint: self.joint.as_deref(),
            push_depth: self.push_depth.as_deref(),
            supports: self.supports.as_deref(),
            leaf,
        };
        let (worked, forces) = asked.worked()?;
        let drawing = self.svg.clone().map(|file| (file, forces_drawing(&forces)));
        Ok(Done { worked, drawing })
    }
}

/// Say how far a shelf sags, now and after years
#[derive(Args, Debug)]
#[command(
    after_help = "Example:\n  tellmark sum shelf --span \"900 mm\" --width \"250 mm\" --thickness \
                  \"20 mm\" --wood oak --load \"20 kg/m\""
)]
pub(super) struct Shelf {
    /// Free length between its bearers
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    span: String,
    /// From front to back
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    width: String,
    /// How thick it is
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    thickness: String,
    /// The wood
    #[arg(long, value_name = "WOOD")]
    wood: String,
    /// What lies on it: in all, or by its length ("20 kg/m")
    #[arg(long, value_name = "LOAD", allow_hyphen_values = true)]
    load: String,
    /// How it is held: resting, fixed or one-end
    #[arg(long, value_name = "HOW")]
    ends: Option<String>,
}

impl Shelf {
    pub(super) fn work(&self) -> Result<Done, Trouble> {
        let asked = shelf::Asked {
            span: &self.span,
            width: &self.width,
            thickness: &self.thickness,
            wood: &self.wood,
            load: &self.load,
            ends: self.ends.as_deref(),
        };
        Ok(shelf::worked(asked)?.into())
    }
}

/// Say what tips a piece with its drawers open, and whether to fix it to the wall
#[derive(Args, Debug)]
#[command(
    after_help = "Example:\n  tellmark sum tipping --carcase \"40 kg\" --behind \"225 mm\" --height \
                  \"850 mm\" --drawers 4 --drawer \"5 kg\" --opens-by \"300 mm\""
)]
pub(super) struct Tipping {
    /// What the piece weighs without its drawers
    #[arg(long, value_name = "WEIGHT", allow_hyphen_values = true)]
    carcase: String,
    /// How far its middle is behind the front feet: half its depth, mostly
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    behind: String,
    /// How high it is
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    height: String,
    /// How high its middle is, to say how far it can be leaned
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    middle: Option<String>,
    /// How many drawers
    #[arg(long, value_name = "NUMBER", default_value_t = 0)]
    drawers: u8,
    /// What one weighs with what is in it
    #[arg(long, value_name = "WEIGHT", allow_hyphen_values = true)]
    drawer: Option<String>,
    /// How many are open [default: all]
    #[arg(long, value_name = "NUMBER")]
    open: Option<u8>,
    /// How far they come out
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    opens_by: Option<String>,
    /// Two parts one on the other, tall and narrow, or heavy above
    #[arg(long)]
    top_heavy: bool,
}

impl Tipping {
    pub(super) fn work(&self) -> Result<Done, Trouble> {
        let asked = tipping::Asked {
            carcase: &self.carcase,
            behind: &self.behind,
            height: &self.height,
            middle: self.middle.as_deref(),
            drawers: self.drawers,
            drawer: self.drawer.as_deref(),
            open: self.open,
            opens_by: self.opens_by.as_deref(),
            is_top_heavy: self.top_heavy,
        };
        Ok(tipping::worked(asked)?.into())
    }
}
