//! What the bench runs: own draws of the published classes, published instances, and jobs that grow.

use super::files::{self, Lines};
use super::{Instance, Problem, Wish, again, bars, boards, layouts, peak_megabytes, run, sheets};
use bedwright::solve::sheets::{Sheet, SheetPart, SheetProblem};

/// Every set, in the order in which they are run.
pub const NAMES: [&str; 28] = [
    "published bars",
    "published sheets",
    "U",
    "T",
    "Scholl 1",
    "Scholl 2",
    "Scholl 3",
    "Schwerin",
    "Waescher",
    "Hard28",
    "class 1",
    "class 2",
    "class 3",
    "class 4",
    "class 5",
    "class 6",
    "class 7",
    "class 8",
    "class 9",
    "class 10",
    "chest",
    "layouts w",
    "layouts cw",
    "layouts of",
    "layouts chl",
    "layouts chlw",
    "layouts gcut",
    "layouts apt",
];

/// The instances of a set.
pub fn set(name: &str, wish: &Wish) -> Vec<Instance> {
    if let Some(class) = name.strip_prefix("class ").and_then(|n| n.parse().ok()) {
        return sheet_class(class, wish);
    }
    if let Some(class) = name.strip_prefix("layouts ") {
        return layout_class(class, wish);
    }
    match name {
        "published bars" => published_bars(),
        "published sheets" => published_sheets(wish.turn),
        "chest" => (1..=wish.draws)
            .flat_map(|seed| [(4, 8), (5, 12), (6, 13)].map(|(n, per)| (seed, n, per)))
            .map(|(seed, n, per)| Instance {
                name: format!("chest of {n} sheets, {seed}"),
                problem: Problem::Sheets(sheets::chest(n, per, 50, seed)),
            })
            .collect(),
        _ => boards::classes()
            .iter()
            .filter(|class| class.set == name)
            .flat_map(|class| (1..=wish.draws).map(|n| (class.name.clone(), class.draw(n))))
            .map(|(name, draw)| Instance { name, problem: bars(draw.capacity, &draw.lengths) })
            .collect(),
    }
}

/// Every number of parts of a class.
fn sheet_class(class: usize, wish: &Wish) -> Vec<Instance> {
    let sizes = sheets::SIZES.iter().flat_map(|n| (1..=wish.draws).map(move |seed| (*n, seed)));
    sizes
        .map(|(n, seed)| Instance {
            name: format!("class {class}, {n} parts, {seed}"),
            problem: Problem::Sheets(sheets::class(class, n, wish.turn, seed)),
        })
        .collect()
}

/// Draws of a class of layouts, every other one with pieces that turn.
fn layout_class(name: &str, wish: &Wish) -> Vec<Instance> {
    let classes = layouts::CLASSES.iter().filter(|class| class.name == name);
    let draws =
        classes.flat_map(|class| (1..=wish.draws).map(|number| (number, class.draw(number))));
    let instance = |(number, draw)| Instance {
        name: format!("{name}, {number}"),
        problem: Problem::Layout(draw),
    };
    draws.map(instance).collect()
}

fn published_bars() -> Vec<Instance> {
    let blocks = include_str!("published-bars.txt").split("\n\n").map(str::trim);
    let read = |block: &str| {
        let mut lines = block.lines();
        let head = lines.next().expect("a line with name and capacity");
        let (name, capacity) = head.split_once(' ').expect("name, capacity");
        let lengths: Vec<i64> = lines.flat_map(str::split_whitespace).flat_map(times).collect();
        let capacity = capacity.split(' ').next().and_then(|c| c.parse().ok());
        Instance { name: name.to_owned(), problem: bars(capacity.expect("a number"), &lengths) }
    };
    blocks.filter(|block| !block.is_empty() && !block.starts_with('#')).map(read).collect()
}

/// `85x2` is 85 twice.
fn times(word: &str) -> Vec<i64> {
    let (length, count) = word.split_once('x').unwrap_or((word, "1"));
    let length = length.parse().expect("a length");
    vec![length; count.parse().expect("a count")]
}

fn published_sheets(turn: bool) -> Vec<Instance> {
    let blocks = include_str!("published-sheets.txt").split("\n\n").map(str::trim);
    let read = |block: &str| {
        let mut lines = block.lines();
        let mut head = lines.next().expect("a line with name and side").split(' ');
        let name = head.next().expect("a name").to_owned();
        let side: i64 = head.next().and_then(|s| s.parse().ok()).expect("a side");
        let parts = lines.flat_map(str::split_whitespace).map(|word| {
            let (w, h) = word.split_once('x').expect("width x height");
            let (width, height) = (w.parse().expect("a width"), h.parse().expect("a height"));
            SheetPart { width, height, count: 1, turn }
        });
        Instance { name, problem: Problem::Sheets(files::square(side, parts.collect())) }
    };
    blocks.filter(|block| !block.is_empty() && !block.starts_with('#')).map(read).collect()
}

/// Parts of the jobs that grow, and the sheets that they are cut out of; or cabinets or parts of random sizes, as many
/// as that.
const GROWTH: [(&str, &str); 11] = [
    ("10", "1"),
    ("30", "2"),
    ("60", "4"),
    ("80", "6"),
    ("150", "10"),
    ("300", "20"),
    ("600", "35"),
    ("1000", "50"),
    ("300", "cabinets"),
    ("1000", "cabinets"),
    ("1000", "random"),
];

/// A table of time, memory and gap against parts and sheets, of boards and of sheets.
pub fn growth(wish: &Wish) {
    println!(
        "{:>6} {:>8} {:>9} {:>9} {:>7} {:>7} {:>5}",
        "parts", "of", "found", "bound", "gap %", "time s", "MB"
    );
    for (parts, count) in GROWTH {
        print!("{}", again(&["growth", parts, count], wish));
        if count.parse::<usize>().is_ok() {
            print!("{}", again(&["growth", parts, "bars"], wish));
        }
    }
}

/// One row of it: sheets of 2440 x 1220 cut at random with 4 to 6 % lost, cabinets, parts of random sizes, or bars; but for
/// these the draw of the number that `--draws` gives.
pub fn grown(parts: &str, sheets: &str, wish: &Wish) {
    let n: usize = parts.parse().expect("a number of parts");
    let problem = match sheets.parse::<usize>() {
        Ok(count) => Problem::Sheets(sheets::chest(count, n.div_ceil(count), 50, wish.draws)),
        Err(_) if sheets == "cabinets" => Problem::Sheets(sheets::cabinets(n, wish.draws)),
        Err(_) if sheets == "random" => Problem::Sheets(sheets::random(n, wish.draws)),
        Err(_) => bars(2400, &lengths(n)),
    };
    let found = run(&problem, wish);
    let (what, made) = match &problem {
        Problem::Sheets(SheetProblem { parts, sheets, .. }) => {
            let Sheet { price, .. } = sheets[0];
            (price, parts.iter().map(|part| part.count as usize).sum())
        }
        Problem::Bars(problem) => (1, problem.parts.len()),
        Problem::Layout(problem) => (1, problem.pieces.len()),
    };
    let cost = found.cost.unwrap_or(0) / what;
    let bound = found.bound / what;
    let gap = 100.0 * (cost - bound) as f64 / bound.max(1) as f64;
    println!(
        "{:>6} {:>8} {:>9} {:>9} {:>7.2} {:>7.2} {:>5}",
        made,
        match sheets.parse::<usize>() {
            Ok(_) => "sheets",
            Err(_) => sheets,
        },
        cost,
        bound,
        gap,
        found.time.as_secs_f64(),
        peak_megabytes().map_or("?".to_owned(), |mb| mb.to_string()),
    );
}

/// Lengths from 200 to 1500, in whole centimetres, the same on every run.
fn lengths(n: usize) -> Vec<i64> {
    let mut random = boards::Random(n as u64);
    (0..n).map(|_| random.range(20, 150) * 10).collect()
}

/// Numbers of a text, line by line.
pub fn lines(text: &str) -> Lines {
    text.lines()
        .map(|line| line.split_whitespace().map_while(|word| word.parse().ok()).collect())
        .filter(|numbers: &Vec<i64>| !numbers.is_empty())
        .collect()
}
