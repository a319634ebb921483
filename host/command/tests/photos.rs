//! `tellmark photo`, as a user types it, with good photographs and bad ones; and what is
//! made of one for a page.

use crate::pictures;

use crate::pictures::{Shown, exif, with_block};
use crate::user::User;
use png::{BitDepth, ColorType};
use std::fs::{self, File};
use std::ops::Deref;
use tellmark_report::picture::{self, Format, LARGEST_FILE, Picture, PictureError};

struct Job {
    user: User,
}

const RECORD: &str = "2026-03-02 09:12  drawer 2 is stiff\n";

impl Deref for Job {
    type Target = User;

    fn deref(&self) -> &User {
        &self.user
    }
}

impl Job {
    fn new() -> Job {
        let header = "job folder: 1\npiece: chest of drawers with 3 drawers\n";
        Job {
            user: User::with_chest(header, RECORD),
        }
    }

    /// What was added to the record, without the times.
    fn added(&self) -> Vec<String> {
        self.added_after(RECORD.lines().count())
    }

    /// Everything in the folder of photographs, also what does not show.
    fn kept(&self) -> Vec<String> {
        let entries = fs::read_dir(self.path("chest/photos"));
        let mut names: Vec<String> = entries
            .into_iter()
            .flatten()
            .map(|entry| {
                entry
                    .expect("read")
                    .file_name()
                    .into_string()
                    .expect("text")
            })
            .collect();
        names.sort();
        names
    }
}

/// A picture of bands, each hue different.
fn dots(width: u32, height: u32, hue: u8) -> Vec<u8> {
    let dot = |x: u32, y: u32| {
        [
            hue,
            u8::try_from(x % 256).unwrap(),
            u8::try_from(y % 256).unwrap(),
        ]
    };
    (0..height)
        .flat_map(|y| (0..width).flat_map(move |x| dot(x, y)))
        .collect()
}

fn jpeg(width: u32, height: u32, hue: u8) -> Vec<u8> {
    let side = |dots| u16::try_from(dots).expect("short");
    pictures::jpeg(&dots(width, height, hue), side(width), side(height))
}

fn png(width: u32, height: u32, hue: u8) -> Vec<u8> {
    let dots = dots(width, height, hue);
    pictures::png(&dots, width, height, ColorType::Rgb, BitDepth::Eight)
}

/// The same JPEG as a camera writes it that was held on its side: with a block that says
/// so (Exif 2.32, 4.6.4: orientation, tag 0112).
fn held(bytes: &[u8], orientation: u8) -> Vec<u8> {
    let block = [b"Exif\0\0", exif(orientation, false).as_slice()].concat();
    with_block(bytes, 0xE1, &block)
}

#[test]
fn a_photograph_is_copied_byte_for_byte_and_stands_in_the_record() {
    let job = Job::new();
    let bytes = held(&jpeg(40, 30, 9), 1);
    job.write("IMG_2041.JPG", &bytes);
    job.write("back.png", png(20, 10, 9));
    let said = job.works(&[
        "photo",
        "chest",
        "IMG_2041.JPG",
        "--part",
        "left runner of drawer 2",
        "--shows",
        "The torn lip;  <here>",
        "--stage",
        "during",
    ]);
    insta::assert_snapshot!(said, @r"
    Line 2: IMG_2041.JPG is kept as photos/1-the-torn-lip-here.jpg (40 by 30 dots, 1 kB).
    Left runner of drawer 2, during the work: The torn lip; <here>.
    ");
    job.works(&["photo", "chest", "back.png"]);
    assert_eq!(job.kept(), ["1-the-torn-lip-here.jpg", "2-back.png"]);
    let kept = fs::read(job.path("chest/photos/1-the-torn-lip-here.jpg")).expect("there");
    assert!(kept == bytes, "byte for byte");
    assert!(fs::read(job.path("IMG_2041.JPG")).expect("still there") == bytes);
    assert_eq!(
        job.added(),
        [
            "photo: 1-the-torn-lip-here.jpg; left runner of drawer 2; during; The torn lip; <here>",
            "photo: 2-back.png; ; before",
        ]
    );
    fs::remove_file(job.path("chest/photos/2-back.png")).expect("removed");
    job.write("chest/photos/by-hand.jpg", b"anything");
    insta::assert_snapshot!(job.works(&["photo", "chest"]), @r"
    2 photographs.
      1-the-torn-lip-here.jpg (line 2): Left runner of drawer 2, during the work: The torn lip; <here>.
      2-back.png (line 3): The whole piece, before the work. This file is not there any more.
    In the folder photos, but not in the record: by-hand.jpg. Add them from there to say what they show.
    ");
}

#[test]
fn the_same_photograph_is_kept_once() {
    let job = Job::new();
    job.write("a.jpg", jpeg(40, 30, 9));
    job.write("copy of a.jpg", jpeg(40, 30, 9));
    job.works(&["photo", "chest", "a.jpg", "--part", "drawer 2"]);
    let again = job.works(&["photo", "chest", "copy of a.jpg", "--part", "drawer 2"]);
    assert_eq!(
        again,
        "copy of a.jpg is there already, as photos/1-drawer-2.jpg (line 2). Nothing was written.\n"
    );
    assert_eq!(job.added().len(), 1);
    let anew = job.works(&[
        "photo",
        "chest",
        "a.jpg",
        "copy of a.jpg",
        "--part",
        "drawer 3",
    ]);
    insta::assert_snapshot!(anew, @r"
    Line 3: a.jpg is there already, as photos/1-drawer-2.jpg; this line now says what it shows.
    copy of a.jpg is there already, as photos/1-drawer-2.jpg (line 3). Nothing was written.
    Drawer 3, before the work.
    ");
    assert_eq!(job.kept(), ["1-drawer-2.jpg"]);
}

/// What a stopped program left in the folder is taken up under its name.
#[test]
fn a_copy_without_its_line_gets_one() {
    let job = Job::new();
    job.write("a.jpg", jpeg(40, 30, 9));
    fs::create_dir(job.path("chest/photos")).expect("made");
    job.write("chest/photos/7-lip.jpg", jpeg(40, 30, 9));
    job.works(&["photo", "chest", "a.jpg", "--shows", "the lip"]);
    assert_eq!(job.kept(), ["7-lip.jpg"]);
    assert_eq!(job.added(), ["photo: 7-lip.jpg; ; before; the lip"]);
}

#[test]
fn nothing_is_written_over() {
    let job = Job::new();
    fs::create_dir(job.path("chest/photos")).expect("made");
    job.write("chest/photos/1-front.jpg", b"somebody else's");
    job.write("a.jpg", jpeg(40, 30, 9));
    job.works(&["photo", "chest", "a.jpg", "--shows", "front"]);
    assert_eq!(job.kept(), ["1-front.jpg", "2-front.jpg"]);
    let other = fs::read(job.path("chest/photos/1-front.jpg")).expect("there");
    assert_eq!(other, b"somebody else's");
}

/// Each with what is said of it; a good one that stands before it is not kept either.
#[test]
fn what_cannot_be_shown_is_not_kept() {
    let job = Job::new();
    let (jpeg, png) = (jpeg(200, 200, 9), png(200, 200, 9));
    let mut bomb = png.clone();
    // 60,000 by 60,000 dots, says the header, with its checksum put right.
    bomb[16..24].copy_from_slice(&[0, 0, 0xEA, 0x60, 0, 0, 0xEA, 0x60]);
    let checksum = crc::Crc::<u32>::new(&crc::CRC_32_ISO_HDLC).checksum(&bomb[12..29]);
    bomb[29..33].copy_from_slice(&checksum.to_be_bytes());
    let mut damaged = png.clone();
    let half = damaged.len() / 2;
    damaged[half] ^= 0x55;
    let bad: [(&str, &[u8], &str); 9] = [
        ("empty.jpg", b"", "is empty"),
        (
            "notes.jpg",
            b"the lip is torn",
            "is not a photograph that I can read",
        ),
        (
            "phone.jpg",
            b"\0\0\0\x18ftypheic\0\0\0\0",
            "is a HEIC picture",
        ),
        ("web.png", b"RIFF\0\0\0\0WEBPVP8 ", "is a WebP picture"),
        ("cut.jpg", &jpeg[..jpeg.len() / 2], "is cut short"),
        ("cut.png", &png[..png.len() / 2], "is cut short"),
        ("begun.jpg", &jpeg[..20], "is "),
        (
            "bomb.png",
            &bomb,
            "is 60000 by 60000 dots, more than 100 million",
        ),
        ("damaged.png", &damaged, "is damaged"),
    ];
    job.write("good.jpg", &jpeg);
    for (name, bytes, said) in bad {
        job.write(name, bytes);
        let ran = job.run(&["photo", "chest", "good.jpg", name]);
        assert_eq!(
            (ran.code, ran.out.as_str()),
            (Some(2), ""),
            "{name}: {}",
            ran.err
        );
        assert!(
            ran.err.starts_with(&format!("{name} {said}")),
            "{name}: {}",
            ran.err
        );
        assert!(
            ran.err.ends_with("No photograph was kept.\n"),
            "{}",
            ran.err
        );
        assert_eq!(job.kept(), [""; 0], "{name}");
        assert_eq!(job.added(), [""; 0], "{name}");
    }
    let large = File::create(job.path("large.jpg")).expect("made");
    large.set_len(LARGEST_FILE + 1).expect("as long");
    let ran = job.run(&["photo", "chest", "large.jpg"]);
    assert_eq!(ran.code, Some(2));
    assert!(
        ran.err.starts_with("large.jpg is larger than 40 MB"),
        "{}",
        ran.err
    );
    for (name, said) in [("chest", "it is a folder"), ("none.jpg", "it is not there")] {
        let ran = job.run(&["photo", "chest", name]);
        assert_eq!(ran.code, Some(3));
        assert!(ran.err.contains(said), "{}", ran.err);
    }
}

#[test]
fn a_part_that_the_piece_has_not_is_refused() {
    let job = Job::new();
    job.write("a.jpg", jpeg(40, 30, 9));
    for (part, said) in [
        ("the tpo", "Did you mean \"the top\"?"),
        ("drawer 9", "has 3 drawers, so there is no drawer 9"),
        ("leaf 1", "has no leaf"),
    ] {
        let ran = job.run(&["photo", "chest", "a.jpg", "--part", part]);
        assert_eq!(ran.code, Some(2), "{part}");
        assert!(ran.err.contains(said), "{part}: {}", ran.err);
        assert_eq!(job.kept(), [""; 0]);
    }
    assert_eq!(job.added(), [""; 0]);
}

/// A record that cannot be added to takes no photograph either.
#[test]
fn a_photograph_without_its_line_is_taken_back() {
    let job = Job::new();
    job.write("a.jpg", jpeg(40, 30, 9));
    job.write("chest/record.lock", b"program number 7 since yesterday\n");
    let held = File::open(job.path("chest/record.lock")).expect("there");
    held.lock().expect("locked");
    let ran = job.run(&["photo", "chest", "a.jpg"]);
    assert_eq!(ran.code, Some(3));
    assert!(ran.err.contains("Somebody else is writing"), "{}", ran.err);
    assert_eq!(job.kept(), [""; 0]);
    drop(held);

    fs::remove_dir(job.path("chest/photos")).expect("empty");
    job.write("chest/photos", b"a file where the folder should be");
    let ran = job.run(&["photo", "chest", "a.jpg"]);
    assert_eq!(ran.code, Some(3));
    assert!(
        ran.err.contains("I could not write chest/photos"),
        "{}",
        ran.err
    );
    assert_eq!(job.added(), [""; 0]);
}

/// A folder that came from elsewhere may have links to any place; what they lead to is
/// neither written nor shown to the owner.
#[cfg(unix)]
#[test]
fn no_link_among_the_photographs_is_followed() {
    use std::os::unix::fs::symlink;
    let job = Job::new();
    job.make("secret");
    job.write("secret/private.jpg", jpeg(40, 30, 9));
    job.write("a.jpg", jpeg(50, 30, 9));
    job.add("2026-03-02 09:13  photo: private.jpg; ; before");
    symlink(job.path("secret"), job.path("chest/photos")).expect("linked");
    let ran = job.run(&["photo", "chest", "a.jpg"]);
    assert_eq!(ran.code, Some(3));
    assert!(
        ran.err
            .contains("chest/photos: it is a link to another place"),
        "{}",
        ran.err
    );
    let in_page = |job: &Job| {
        let ran = job.run(&["report", "chest", "--out", "page.html"]);
        assert_eq!(ran.code, Some(0), "{}", ran.err);
        assert!(
            ran.err.starts_with("The photograph private.jpg "),
            "{}",
            ran.err
        );
        job.text("page.html").contains("data:image/jpeg")
    };
    assert!(!in_page(&job), "by way of the folder");

    fs::remove_file(job.path("chest/photos")).expect("removed");
    job.make("chest/photos");
    let private = job.path("secret/private.jpg");
    symlink(&private, job.path("chest/photos/private.jpg")).expect("linked");
    symlink("nowhere", job.path("chest/photos/8-a.jpg")).expect("linked");
    assert!(!in_page(&job), "by way of the file");
    job.works(&["photo", "chest", "a.jpg", "--shows", "a"]);
    assert_eq!(job.kept(), ["8-a.jpg", "9-a.jpg", "private.jpg"]);

    job.write("secret/page.html", "<html>");
    symlink(job.path("secret/page.html"), job.path("chest/page.html")).expect("linked");
    let ran = job.run(&["report", "chest", "--out", "chest/page.html"]);
    assert_eq!(ran.code, Some(3));
    assert!(
        ran.err.contains("it is a link to another place"),
        "{}",
        ran.err
    );
    assert_eq!(job.text("secret/page.html"), "<html>");
    fs::remove_file(job.path("secret/page.html")).expect("removed");
    let names: Vec<_> = fs::read_dir(job.path("secret")).expect("read").collect();
    assert_eq!(names.len(), 1);
}

/// The eight ways to hold a camera (Exif 2.32, orientation).
#[test]
fn a_photograph_stands_upright_on_the_page() {
    let upright = jpeg(64, 32, 200);
    for orientation in 1..=8 {
        let bytes = held(&upright, orientation);
        let turned = orientation >= 5;
        let (width, height) = if turned { (32, 64) } else { (64, 32) };
        let format = Format::Jpeg;
        assert_eq!(
            picture::look_at(&bytes),
            Ok(Picture {
                format,
                width,
                height
            }),
            "{orientation}"
        );
        let small = picture::small(&bytes, 16).expect("it can be shown");
        assert_eq!(
            (small.width, small.height),
            if turned { (8, 16) } else { (16, 8) }
        );
        assert!(
            !small.jpeg.windows(4).any(|w| w == b"Exif"),
            "nothing of the camera"
        );
        let shown = Shown::of(&small.jpeg);
        // Green grows to the right when it is upright; where does it grow now?
        let green = |x, y| shown.dot(x, y)[1];
        let (last_x, last_y) = (shown.width - 1, shown.height - 1);
        let grows = match orientation {
            1 | 4 => green(last_x, 0) > green(0, 0),
            2 | 3 => green(last_x, 0) < green(0, 0),
            5 | 6 => green(0, last_y) > green(0, 0),
            _ => green(0, last_y) < green(0, 0),
        };
        assert!(grows, "{orientation}");
    }
}

#[test]
fn the_small_picture_of_an_end_is_not_the_end() {
    // A camera puts a small whole JPEG into a block of the large one.
    let inner = jpeg(8, 8, 1);
    let outer = jpeg(64, 64, 2);
    let mut bytes = outer[..2].to_vec();
    bytes.extend([0xFF, 0xE2]);
    bytes.extend(u16::try_from(inner.len() + 2).expect("short").to_be_bytes());
    bytes.extend(&inner);
    bytes.extend(&outer[2..]);
    assert!(picture::look_at(&bytes).is_ok());
    let cut = &bytes[..bytes.len() - 100];
    assert_eq!(picture::look_at(cut), Err(PictureError::CutShort));
}

#[test]
fn what_shines_through_shows_the_paper() {
    let clear = pictures::png(&[0; 4 * 16 * 16], 16, 16, ColorType::Rgba, BitDepth::Eight);
    let small = picture::small(&clear, 900).expect("it can be shown");
    let shown = Shown::of(&small.jpeg);
    assert!(shown.dots().all(|dot| dot.iter().all(|c| *c > 250)));
}

/// Four quarters: red, green, blue, and a dark grey.
fn quarters(side: u32) -> Vec<[u8; 3]> {
    let dot = |x: u32, y: u32| match (x < side / 2, y < side / 2) {
        (true, true) => [200, 20, 20],
        (false, true) => [20, 160, 20],
        (true, false) => [20, 20, 200],
        (false, false) => [60, 60, 60],
    };
    (0..side)
        .flat_map(|y| (0..side).map(move |x| dot(x, y)))
        .collect()
}

/// Whether a small copy shows the four quarters in their colours.
fn shows_quarters(name: &str, bytes: &[u8], wanted: [[u8; 3]; 4]) {
    for longest in [900, 30] {
        let small = picture::small(bytes, longest).expect(name);
        let shown = Shown::of(&small.jpeg);
        let (far_x, far_y) = (shown.width * 3 / 4, shown.height * 3 / 4);
        let (near_x, near_y) = (shown.width / 4, shown.height / 4);
        let places = [
            (near_x, near_y),
            (far_x, near_y),
            (near_x, far_y),
            (far_x, far_y),
        ];
        for ((x, y), wanted) in places.into_iter().zip(wanted) {
            let dot = shown.dot(x, y);
            let near = dot.iter().zip(wanted).all(|(c, w)| c.abs_diff(w) < 12);
            assert!(
                near,
                "{name}, {longest}: {dot:?} where {wanted:?} is wanted"
            );
        }
    }
}

const QUARTERS: [[u8; 3]; 4] = [[200, 20, 20], [20, 160, 20], [20, 20, 200], [60, 60, 60]];

#[test]
fn every_kind_of_png_shows_its_colours() {
    const SIDE: u32 = 64;
    let dots = quarters(SIDE);
    let (eight, sixteen) = (BitDepth::Eight, BitDepth::Sixteen);
    let wide = |samples: &[u8]| -> Vec<u8> { samples.iter().flat_map(|&c| [c, c]).collect() };
    let rgb = dots.concat();
    // Half of the ink over white is half as dark.
    let thin: Vec<u8> = dots
        .iter()
        .flat_map(|[r, g, b]| [*r, *g, *b, 128])
        .collect();
    let over = QUARTERS.map(|dot| dot.map(|c| ((u16::from(c) * 128 + 255 * 127) / 255) as u8));
    let grey: Vec<u8> = dots.iter().map(|dot| dot[0]).collect();
    let greys = QUARTERS.map(|dot| [dot[0]; 3]);
    let thin_grey: Vec<u8> = grey.iter().flat_map(|&g| [g, 128]).collect();
    let over_greys = over.map(|dot| [dot[0]; 3]);
    for (name, samples, colours, depth, wanted) in [
        ("rgb", rgb.clone(), ColorType::Rgb, eight, QUARTERS),
        (
            "rgb of 16 bits",
            wide(&rgb),
            ColorType::Rgb,
            sixteen,
            QUARTERS,
        ),
        ("rgba", thin.clone(), ColorType::Rgba, eight, over),
        (
            "rgba of 16 bits",
            wide(&thin),
            ColorType::Rgba,
            sixteen,
            over,
        ),
        ("grey", grey.clone(), ColorType::Grayscale, eight, greys),
        (
            "grey of 16 bits",
            wide(&grey),
            ColorType::Grayscale,
            sixteen,
            greys,
        ),
        (
            "grey and alpha",
            thin_grey,
            ColorType::GrayscaleAlpha,
            eight,
            over_greys,
        ),
    ] {
        let bytes = pictures::png(&samples, SIDE, SIDE, colours, depth);
        shows_quarters(name, &bytes, wanted);
    }
    let mut palette = Vec::new();
    let mut encoder = png::Encoder::new(&mut palette, SIDE, SIDE);
    encoder.set_color(ColorType::Indexed);
    encoder.set_depth(BitDepth::Two);
    encoder.set_palette(QUARTERS.concat());
    encoder.set_trns(vec![255, 255, 255, 0]);
    let numbers: Vec<u8> = dots
        .chunks(4)
        .map(|four| {
            let number = |dot| QUARTERS.iter().position(|q| q == dot).expect("one of them") as u8;
            four.iter().fold(0, |all, dot| all << 2 | number(dot))
        })
        .collect();
    let mut writer = encoder.write_header().expect("written");
    writer.write_image_data(&numbers).expect("written");
    writer.finish().expect("written");
    let mut paper = QUARTERS;
    paper[3] = [255; 3];
    shows_quarters("palette", &palette, paper);
}

#[test]
fn every_kind_of_jpeg_shows_its_colours() {
    const SIDE: u16 = 64;
    let dots = quarters(SIDE.into());
    let encoded = |progressive: bool, samples: &[u8], colours| {
        let mut bytes = Vec::new();
        let mut encoder = jpeg_encoder::Encoder::new(&mut bytes, 95);
        encoder.set_progressive(progressive);
        encoder
            .encode(samples, SIDE, SIDE, colours)
            .expect("written");
        bytes
    };
    let rgb = dots.concat();
    let grey: Vec<u8> = dots.iter().map(|dot| dot[0]).collect();
    // Printers' colours: how much ink there is of each.
    let inks: Vec<u8> = dots
        .iter()
        .flat_map(|[r, g, b]| [255 - r, 255 - g, 255 - b, 0])
        .collect();
    let greys = QUARTERS.map(|dot| [dot[0]; 3]);
    for progressive in [false, true] {
        let jpeg = encoded(progressive, &rgb, jpeg_encoder::ColorType::Rgb);
        shows_quarters("rgb", &jpeg, QUARTERS);
        let jpeg = encoded(progressive, &grey, jpeg_encoder::ColorType::Luma);
        shows_quarters("grey", &jpeg, greys);
        let jpeg = encoded(progressive, &inks, jpeg_encoder::ColorType::Cmyk);
        shows_quarters("cmyk", &jpeg, QUARTERS);
        let jpeg = encoded(progressive, &inks, jpeg_encoder::ColorType::CmykAsYcck);
        shows_quarters("ycck", &jpeg, QUARTERS);
    }
}

/// Dots of two hues by turns, as a weave or a dithered picture has them: the mean stays.
#[test]
fn a_fine_pattern_keeps_its_mean_colour() {
    const SIDE: usize = 64;
    let dots: Vec<u8> = (0..SIDE * SIDE)
        .flat_map(|n| match (n % SIDE + n / SIDE) % 2 {
            0 => [255, 204, 153],
            _ => [153, 255, 255],
        })
        .collect();
    let side = u32::try_from(SIDE).expect("short");
    let bytes = pictures::png(&dots, side, side, ColorType::Rgb, BitDepth::Eight);
    let shown = Shown::of(&picture::small(&bytes, 900).expect("it can be shown").jpeg);
    for colour in 0..3 {
        let mean = |sum: usize| sum / (SIDE * SIDE);
        let was = mean(
            dots.iter()
                .skip(colour)
                .step_by(3)
                .map(|&c| usize::from(c))
                .sum(),
        );
        let is = mean(shown.dots().map(|dot| usize::from(dot[colour])).sum());
        assert!(was.abs_diff(is) < 8, "{colour}: {is} where {was} is wanted");
    }
}

/// A photograph with the place in each of the blocks that may have it, and how it was held.
fn with_place(orientation: u8) -> Vec<u8> {
    let plain = jpeg(64, 32, 200);
    let exif = [b"Exif\0\0", exif(orientation, true).as_slice()].concat();
    let xmp = b"http://ns.adobe.com/xap/1.0/\0<x exif:GPSLatitude='12,34.9N'/>";
    let all = with_block(&plain, 0xED, b"Photoshop 3.0\0City");
    let all = with_block(&all, 0xFE, b"a comment");
    let all = with_block(&all, 0xE1, xmp);
    let mut all = with_block(&all, 0xE1, &exif);
    all.extend(b"what a telephone puts after the end");
    all
}

#[test]
fn copies_to_hand_over_say_no_place_and_show_the_same() {
    let job = Job::new();
    let original = with_place(6);
    assert!(picture::tells_place(&original));
    assert!(!picture::tells_place(&held(&jpeg(8, 8, 1), 6)));
    job.write("a.jpg", &original);
    let mut png = png(20, 10, 9);
    let text = b"tEXtLocation\0here";
    let chunk = [&13u32.to_be_bytes()[..], text, b"GPSLatitude"].concat();
    // A chunk of words after the header; its checksum is not looked at.
    png.splice(33..33, chunk[..4 + 4 + 13].iter().copied().chain([0; 4]));
    job.write("b.png", &png);
    job.works(&["photo", "chest", "a.jpg", "--shows", "front"]);
    job.works(&["photo", "chest", "b.png", "--shows", "back"]);

    let said = job.works(&["report", "chest", "--out", "r.html"]);
    assert!(
        said.contains(
            "1-front.jpg says where it was taken. The page does not say it, but the files in \
             photos do. For copies without it, to hand over:\n  \
             tellmark report chest --photos-out for-the-owner\n"
        ),
        "{said}"
    );
    let hand_over = [
        "report",
        "chest",
        "--out",
        "r.html",
        "--photos-out",
        "for/the owner",
    ];
    let said = job.works(&hand_over);
    assert!(
        said.contains("2 copies without place, time and owner: for/the owner."),
        "{said}"
    );
    let copy = fs::read(job.path("for/the owner/1-front.jpg")).expect("written");
    assert!(!picture::tells_place(&copy));
    for gone in ["GPS", "City", "comment", "telephone", "\x02N"] {
        let there = |bytes: &[u8]| bytes.windows(gone.len()).any(|w| w == gone.as_bytes());
        assert!(there(&original) && !there(&copy), "{gone}");
    }
    assert_eq!(picture::look_at(&copy), picture::look_at(&original));
    assert_eq!(picture::small(&copy, 900), picture::small(&original, 900));
    let back = fs::read(job.path("for/the owner/2-back.png")).expect("written");
    assert!(!back.windows(8).any(|w| w == b"Location"));
    assert_eq!(picture::small(&back, 900), picture::small(&png, 900));

    // The originals are as they were, and nothing is written over.
    assert!(fs::read(job.path("chest/photos/1-front.jpg")).expect("there") == original);
    job.works(&hand_over);
    job.write("for/the owner/2-back.png", b"somebody else's");
    let ran = job.run(&hand_over);
    assert_eq!(ran.code, Some(3));
    assert!(
        ran.err
            .contains("2-back.png was not copied: something else of this name"),
        "{}",
        ran.err
    );
    let ran = job.run(&[
        "report",
        "chest",
        "--out",
        "r.html",
        "--photos-out",
        "chest/photos",
    ]);
    assert_eq!(ran.code, Some(3));
    assert!(ran.err.contains("they stay as they are"), "{}", ran.err);
    assert_eq!(job.kept(), ["1-front.jpg", "2-back.png"]);
}

/// Bytes turned over anywhere are at worst a trouble.
#[test]
fn damage_anywhere_is_a_trouble_at_worst() {
    let mut seed = 12_345u64;
    let mut random = move |below: usize| {
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
        usize::try_from(seed >> 33).expect("small") % below
    };
    for bytes in [with_place(3), png(40, 30, 7)] {
        for _ in 0..2_000 {
            let mut bytes = bytes.clone();
            for _ in 0..=random(4) {
                let at = random(bytes.len());
                bytes[at] = u8::try_from(random(256)).expect("a byte");
            }
            bytes.truncate(bytes.len() - random(2) * random(bytes.len()));
            let _ = (picture::look_at(&bytes), picture::small(&bytes, 20));
            let _ = (picture::without_place(&bytes), picture::tells_place(&bytes));
        }
    }
}
