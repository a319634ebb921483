//! The display: 128 × 64 pixels behind an SSD1306 at address 0x3C of I2C1.
//!
//! A picture is drawn into memory and then sent, eight rows at a time and only
//! those that changed, so that a moved mark costs 3 ms and not 28. A display that
//! does not answer is tried again with the next picture; the unit works on
//! without one, and its light says so.

use core::convert::Infallible;

use display_interface::DisplayError;
use embedded_graphics::Pixel;
use embedded_graphics::draw_target::DrawTarget;
use embedded_graphics::geometry::{OriginDimensions, Size};
use embedded_graphics::pixelcolor::BinaryColor;
use ssd1306::command::AddrMode;
use ssd1306::mode::BasicMode;
use ssd1306::prelude::{Brightness, DisplayRotation, DisplaySize128x64, I2CInterface};
use ssd1306::{I2CDisplayInterface, Ssd1306};

use crate::bus::Bus;

/// Width in pixels.
pub const WIDTH: usize = 128;
/// Rows of eight pixels.
const PAGES: usize = 8;

type Panel = Ssd1306<I2CInterface<Bus>, DisplaySize128x64, BasicMode>;

/// A picture in memory, laid out as the display takes it: eight rows of bytes,
/// each byte eight pixels, the top one lowest.
pub struct Frame([[u8; WIDTH]; PAGES]);

impl Frame {
    /// Dark.
    pub const fn new() -> Self {
        Self([[0; WIDTH]; PAGES])
    }
}

impl OriginDimensions for Frame {
    fn size(&self) -> Size {
        Size::new(128, 64)
    }
}

impl DrawTarget for Frame {
    type Color = BinaryColor;
    type Error = Infallible;

    fn draw_iter<I>(&mut self, pixels: I) -> Result<(), Infallible>
    where
        I: IntoIterator<Item = Pixel<BinaryColor>>,
    {
        for Pixel(at, colour) in pixels {
            let (Ok(x), Ok(y)) = (usize::try_from(at.x), usize::try_from(at.y)) else {
                continue;
            };
            let Some(byte) = self.0.get_mut(y / 8).and_then(|page| page.get_mut(x)) else {
                continue;
            };
            let bit = 1 << (y % 8);
            match colour {
                BinaryColor::On => *byte |= bit,
                BinaryColor::Off => *byte &= !bit,
            }
        }
        Ok(())
    }
}

/// The display.
pub struct Display {
    panel: Panel,
    /// What is to be seen next.
    pub frame: Frame,
    shown: Frame,
    /// It answered, and shows `shown`.
    ready: bool,
}

impl Display {
    /// Takes hold of the display; nothing is sent yet.
    pub fn new(bus: Bus) -> Self {
        Self {
            panel: Ssd1306::new(
                I2CDisplayInterface::new(bus),
                DisplaySize128x64,
                DisplayRotation::Rotate0,
            ),
            frame: Frame::new(),
            shown: Frame::new(),
            ready: false,
        }
    }

    /// Shows the frame. False if the display does not answer.
    pub fn show(&mut self) -> bool {
        let fresh = !self.ready;
        let sent = self.start().and_then(|()| self.send(fresh));
        self.ready = sent.is_ok();
        self.ready
    }

    /// Makes it dark, to spare it, or light again.
    pub fn light(&mut self, on: bool) {
        if self.ready {
            self.ready = self.panel.set_display_on(on).is_ok();
        }
    }

    fn start(&mut self) -> Result<(), DisplayError> {
        if !self.ready {
            self.panel.init_with_addr_mode(AddrMode::Horizontal)?;
            self.panel.set_brightness(Brightness::NORMAL)?;
        }
        Ok(())
    }

    fn send(&mut self, everything: bool) -> Result<(), DisplayError> {
        for (y, (next, shown)) in (0..).zip(self.frame.0.iter().zip(&mut self.shown.0)) {
            if everything || next != shown {
                self.panel.set_draw_area((0, y * 8), (128, y * 8 + 8))?;
                self.panel.draw(next)?;
                *shown = *next;
            }
        }
        Ok(())
    }
}
