//! `tellmark photo`, as a user types it, with good photographs and bad ones; and what is
//! made of one for a page.

mod pictures;
mod user;

use pictures::{Shown, exif, with_block};
use png::{BitDepth, ColorType};
use std::fs::{self, File};
use std::ops::Deref;
use tellmark_report::picture::{self, Format, LARGEST_FILE, Picture, Trouble};
use user::User;

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
        ("drawr 2", "Did you mean \"drawer\"?"),
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
    let ran = job.run(&["photo", "chest", "a.jpg"]);
    assert_eq!(ran.code, Some(3));
    assert!(ran.err.contains("Somebody else is writing"), "{}", ran.err);
    assert_eq!(job.kept(), [""; 0]);
    fs::remove_file(job.path("chest/record.lock")).expect("removed");

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
    assert_eq!(picture::look_at(cut), Err(Trouble::CutShort));
}

#[test]
fn what_shines_through_shows_the_paper() {
    let clear = pictures::png(&[0; 4 * 16 * 16], 16, 16, ColorType::Rgba, BitDepth::Eight);
    let small = picture::small(&clear, 900).expect("it can be shown");
    let shown = Shown::of(&small.jpeg);
    assert!(shown.dots().all(|dot| dot.iter().all(|c| *c > 250)));
}
