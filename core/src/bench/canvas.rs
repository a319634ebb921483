//! The picture: text in three sizes, bars and marks on 128 by 64 dots.

use core::fmt;

use embedded_graphics::Drawable;
use embedded_graphics::draw_target::DrawTarget;
use embedded_graphics::geometry::{Point, Size};
use embedded_graphics::mono_font::{MonoFont, MonoTextStyle, ascii, iso_8859_1};
use embedded_graphics::pixelcolor::BinaryColor;
use embedded_graphics::primitives::Rectangle;
use embedded_graphics::text::{Baseline, Text};

use super::wrap::Wrap;

/// Dots across.
pub const WIDTH: i32 = 128;
/// Dots down.
pub const HEIGHT: i32 = 64;
/// First row of dots below the head.
pub const BODY: i32 = 10;
/// First row of dots of the names of the keys.
pub const FOOT: i32 = 54;

/// A size of text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Type {
    /// 25 characters on a line: heads, feet, remarks.
    Small,
    /// 21 characters on a line.
    Plain,
    /// 21 characters on a line, heavy: what is asked.
    Bold,
    /// 12 characters on a line: figures being dialled.
    Large,
}

impl Type {
    fn font(self) -> &'static MonoFont<'static> {
        match self {
            Self::Small => &iso_8859_1::FONT_5X8,
            Self::Plain => &iso_8859_1::FONT_6X9,
            Self::Bold => &iso_8859_1::FONT_6X13_BOLD,
            Self::Large => &ascii::FONT_10X20,
        }
    }

    /// Dots across one character.
    #[must_use]
    pub fn width(self) -> i32 {
        match self {
            Self::Small => 5,
            Self::Plain | Self::Bold => 6,
            Self::Large => 10,
        }
    }

    /// Dots from one line to the next.
    #[must_use]
    pub fn height(self) -> i32 {
        match self {
            Self::Small => 8,
            Self::Plain => 9,
            Self::Bold => 13,
            Self::Large => 20,
        }
    }

    /// Characters on a line.
    #[must_use]
    pub fn columns(self) -> usize {
        match self {
            Self::Small => 25,
            Self::Plain | Self::Bold => 21,
            Self::Large => 12,
        }
    }
}

/// A sign that no font has.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mark {
    /// A wedge pointing up.
    Up,
    /// A wedge pointing down.
    Down,
}

/// How many rows of dots a wedge has.
const WEDGE: i32 = 4;

/// Draws on a display, and remembers the first error.
pub struct Canvas<'d, D: DrawTarget<Color = BinaryColor>> {
    target: &'d mut D,
    done: Result<(), D::Error>,
}

impl<'d, D: DrawTarget<Color = BinaryColor>> Canvas<'d, D> {
    /// An empty picture.
    pub fn new(target: &'d mut D) -> Self {
        let done = target.clear(BinaryColor::Off);
        Self { target, done }
    }

    /// Whether everything was drawn.
    ///
    /// # Errors
    /// The target's, if not.
    pub fn end(self) -> Result<(), D::Error> {
        self.done
    }

    /// Fills a rectangle, lit or dark.
    pub fn fill(&mut self, (x, y): (i32, i32), (width, height): (i32, i32), on: bool) {
        if self.done.is_err() {
            return;
        }
        let size = Size::new(
            u32::try_from(width).unwrap_or(0),
            u32::try_from(height).unwrap_or(0),
        );
        let area = Rectangle::new(Point::new(x, y), size);
        self.done = self.target.fill_solid(&area, BinaryColor::from(on));
    }

    /// One line of text, lit; or dark on a ground that was filled before.
    pub fn text(&mut self, (x, y): (i32, i32), size: Type, dark: bool, text: &str) {
        if self.done.is_err() {
            return;
        }
        let style = MonoTextStyle::new(size.font(), BinaryColor::from(!dark));
        let text = Text::with_baseline(text, Point::new(x, y), style, Baseline::Top);
        self.done = text.draw(self.target).map(|_| ());
    }

    /// A wedge, seven dots wide.
    pub fn mark(&mut self, (x, y): (i32, i32), mark: Mark) {
        for row in 0..WEDGE {
            let from = match mark {
                Mark::Up => WEDGE - 1 - row,
                Mark::Down => row,
            };
            self.fill((x + from, y + row), (2 * (WEDGE - from) - 1, 1), true);
        }
    }

    /// Text wrapped into lines, its first at this point: the lines that the setting
    /// shows. Returns how many lines the whole text has.
    pub fn wrapped(
        &mut self,
        (x, y): (i32, i32),
        size: Type,
        setting: Setting,
        write: impl FnOnce(&mut dyn fmt::Write) -> fmt::Result,
    ) -> usize {
        let mut place = |line: usize, column: usize, word: &str| {
            let Some(row) = line.checked_sub(setting.skip) else {
                return;
            };
            if row >= setting.lines {
                return;
            }
            let down = i32::try_from(row).unwrap_or(0) * size.height();
            let across = i32::try_from(column).unwrap_or(0) * size.width();
            self.text((x + across, y + down), size, setting.dark, word);
        };
        let mut wrap = Wrap::new(setting.columns, &mut place);
        // Wrapping never fails; errors of drawing are remembered.
        let _ = write(&mut wrap);
        wrap.end()
    }
}

/// How text is wrapped into lines.
#[derive(Clone, Copy, Debug)]
pub struct Setting {
    /// Characters on a line.
    pub columns: usize,
    /// Lines left out at the beginning.
    pub skip: usize,
    /// Lines shown.
    pub lines: usize,
    /// Dark on light.
    pub dark: bool,
}

impl Setting {
    /// Light on dark, from the first line.
    #[must_use]
    pub fn lines(size: Type, lines: usize) -> Self {
        Self {
            columns: size.columns(),
            skip: 0,
            lines,
            dark: false,
        }
    }
}
