//! Numbers as people read them: metric, with inches or pounds beside.

use tellmark_core::handbook::GRAVITY;

/// With as many places as matter: three figures, and no noughts at the end.
pub(crate) fn plain(value: f32) -> String {
    let size = value.abs();
    let places = if size >= 100.0 {
        0
    } else if size >= 10.0 {
        1
    } else {
        2
    };
    let shown = format!("{value:.places$}");
    let trimmed = match shown.contains('.') {
        true => shown.trim_end_matches('0').trim_end_matches('.'),
        false => shown.as_str(),
    };
    match trimmed {
        "-0" => "0".to_owned(),
        other => other.to_owned(),
    }
}

/// "6.6 mm (0.26 in)".
pub(crate) fn length(mm: f32) -> String {
    let places = if mm.abs() >= 100.0 { 0 } else { 1 };
    format!("{mm:.places$} mm ({} in)", plain(mm / 25.4))
}

/// "6.6 mm (0.26 in)", "5.8 to 6.6 mm (0.23 to 0.26 in)".
pub(crate) fn lengths(least: f32, most: f32) -> String {
    let (one, other) = (format!("{least:.1}"), format!("{most:.1}"));
    match one == other {
        true => length(most),
        false => format!(
            "{one} to {other} mm ({} to {} in)",
            plain(least / 25.4),
            plain(most / 25.4)
        ),
    }
}

/// "586 N (as a weight of 60 kg, 132 lb)".
pub(crate) fn force(newtons: f32) -> String {
    let kg = newtons / GRAVITY;
    format!(
        "{} N (as a weight of {} kg, {} lb)",
        plain(newtons),
        plain(kg),
        plain(kg / 0.453_592_37)
    )
}

/// "5", "5 to 6".
pub(crate) fn span(least: f32, most: f32) -> String {
    let (one, other) = (plain(least), plain(most));
    match one == other {
        true => one,
        false => format!("{one} to {other}"),
    }
}

/// "20 °C (68 °F)".
pub(crate) fn temperature(celsius: f32) -> String {
    format!("{} °C ({} °F)", plain(celsius), plain(celsius * 1.8 + 32.0))
}
