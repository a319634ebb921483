use tellmark::check::*;
use tellmark::language::*;
fn main() {
    let mut files = vec![];
    let mut names: Vec<_> = std::fs::read_dir("rules")
        .unwrap()
        .map(|e| e.unwrap().path())
        .filter(|p| p.to_string_lossy().ends_with(".rules.txt"))
        .collect();
    names.sort();
    for a in std::env::args().skip(1) {
        names = vec![a.into()];
    }
    for p in names {
        files.push(SourceFile {
            name: p.file_name().unwrap().to_string_lossy().into(),
            text: std::fs::read_to_string(&p).unwrap(),
            standard: true,
        });
    }
    let t = std::time::Instant::now();
    let r = read(files);
    let t1 = t.elapsed();
    let c = check(r, Depth::Full);
    let t2 = t.elapsed();
    let t3 = t.elapsed();
    let mut n = 0;
    for m in &c.reading.messages {
        if m.level != Level::Note {
            n += 1;
            if n <= 40 {
                println!("{}", render(m, &c.reading.files, Style::Plain));
            }
        }
    }
    println!(
        "read {t1:?} build {t2:?} full {t3:?}; {} messages; rules {} means {} states {} signs {} examples {}",
        c.reading.messages.len(),
        c.reading.model.rules.len(),
        c.reading.model.means.len(),
        c.reading.model.states.len(),
        c.reading.model.signs.len(),
        c.reading.model.examples.len()
    );
    if let Some(b) = &c.built {
        for k in &b.sizes.kinds {
            println!(
                "{:30} states {:3} iface {:2} nodes {:5} up {:5} down {:5}",
                k.name, k.states, k.interface, k.nodes, k.up, k.down
            );
        }
        println!(
            "pack {} bytes missed {}",
            b.sizes.pack,
            b.reached(&c.reading.model)
                .iter()
                .filter(|m| (m.reached
                    - c.reading.model.means[m.means].strength.chance.0 as f64 / 1000.)
                    .abs()
                    > 0.02)
                .count()
        );
    }
}
