//! What the unit itself has to say, in place of the bench screen.

use embedded_graphics::draw_target::DrawTarget;
use embedded_graphics::pixelcolor::BinaryColor;
use tellmark_core::bench::canvas::{Canvas, Type};

/// Draws up to six lines of 21 characters.
pub fn draw<D: DrawTarget<Color = BinaryColor>>(target: &mut D, lines: &[&str]) {
    let mut canvas = Canvas::new(target);
    for (y, line) in (2..).step_by(10).zip(lines) {
        canvas.text((0, y), Type::Plain, false, line);
    }
    // The frame is memory, which takes everything.
    let _ = canvas.end();
}
