//! Own draws by the recipes of the published classes of one-dimensional cutting and packing.
//!
//! Every draw is made from its class's name and its number alone, so that a figure can be had again. The recipes are those
//! of the papers named; the instances are ours.

/// Parts of the given lengths (repeats allowed, in the order drawn) from bars of one length.
pub struct Draw {
    pub capacity: i64,
    pub lengths: Vec<i64>,
}

/// Draws that share a recipe.
pub struct Class {
    /// The published set that the recipe is that of.
    pub set: &'static str,
    pub name: String,
    make: Box<dyn Fn(&mut Random) -> Draw>,
}

impl Class {
    /// The draw of a number.
    pub fn draw(&self, number: u64) -> Draw {
        let name = self
            .name
            .bytes()
            .fold(0xcbf2_9ce4_8422_2325, |hash: u64, byte| {
                (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3)
            });
        (self.make)(&mut Random(
            name.wrapping_add(number.wrapping_mul(0x5851_f42d_4c95_7f2d)),
        ))
    }
}

/// A small deterministic generator (SplitMix64: Steele, Lea & Flood, OOPSLA 2014).
pub struct Random(pub u64);

impl Random {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A whole number in `low..=high`.
    pub fn range(&mut self, low: i64, high: i64) -> i64 {
        low + (self.next() % u64::try_from(high - low + 1).expect("low <= high")) as i64
    }
}

/// Every class, sets together, in the order of the papers.
pub fn classes() -> Vec<Class> {
    let mut all = Vec::new();
    let mut add = |set, name: String, make: Box<dyn Fn(&mut Random) -> Draw>| {
        all.push(Class { set, name, make });
    };
    // Falkenauer, J. Heuristics 2:5-30 (1996).
    for n in [120, 250, 500, 1000] {
        add(
            "U",
            format!("u{n}"),
            Box::new(move |r| uniform(r, 150, 20, 100, n)),
        );
    }
    for n in [60, 120, 249, 501] {
        add("T", format!("t{n}"), Box::new(move |r| triplets(r, n / 3)));
    }
    // Scholl, Klein & Juergens, Comput. Oper. Res. 24:627-645 (1997).
    for n in [50, 100, 200, 500] {
        for capacity in [100, 120, 150] {
            for low in [1, 20, 30] {
                let name = format!("n{n} c{capacity} w{low}");
                add(
                    "Scholl 1",
                    name,
                    Box::new(move |r| uniform(r, capacity, low, 100, n)),
                );
            }
        }
    }
    for n in [50, 100, 200, 500] {
        for share in [3, 5, 7, 9] {
            for spread in [20, 50, 90] {
                let name = format!("n{n} c/{share} d{spread}");
                let mean = 1000 / share;
                let (low, high) = (mean * (100 - spread) / 100, mean * (100 + spread) / 100);
                add(
                    "Scholl 2",
                    name,
                    Box::new(move |r| uniform(r, 1000, low, high, n)),
                );
            }
        }
    }
    add(
        "Scholl 3",
        "hard".to_owned(),
        Box::new(|r| uniform(r, 100_000, 20_000, 35_000, 200)),
    );
    // Schwerin & Waescher, Int. Trans. Oper. Res. 4:377-389 (1997).
    for n in [100, 120] {
        add(
            "Schwerin",
            format!("s{n}"),
            Box::new(move |r| uniform(r, 1000, 150, 200, n)),
        );
    }
    // Waescher & Gau, OR Spektrum 18:131-144 (1996): lengths of a large spread, few equal.
    for (high, least, most) in [(7500, 57, 100), (5000, 80, 160), (2500, 120, 239)] {
        let make = move |r: &mut Random| {
            let n = r.range(least, most) as usize;
            uniform(r, 10_000, 1, high, n)
        };
        add("Waescher", format!("g{high}"), Box::new(make));
    }
    // Schoenfield, tech. report, US Army Space and Missile Defense Command (2002): little waste to spare.
    for n in [160, 180, 200] {
        add("Hard28", format!("h{n}"), Box::new(move |r| tight(r, n)));
    }
    all
}

/// `n` lengths in `low..=high`, each as likely.
fn uniform(random: &mut Random, capacity: i64, low: i64, high: i64, n: usize) -> Draw {
    Draw {
        capacity,
        lengths: (0..n).map(|_| random.range(low, high)).collect(),
    }
}

/// Bars of three parts each and no waste.
fn triplets(random: &mut Random, bars: usize) -> Draw {
    let mut lengths = Vec::new();
    for _ in 0..bars {
        let first = random.range(380, 490);
        let rest = 1000 - first;
        let second = random.range(250, (rest / 2).max(251) - 1);
        lengths.extend([first, second, rest - second]);
    }
    Draw {
        capacity: 1000,
        lengths,
    }
}

/// Uniform lengths up to 600 .. 800 of 1000, drawn again one by one until their sum lies 10 to 60 below a whole number of
/// bars: what is left to waste is then so little that often no plan makes do with it.
fn tight(random: &mut Random, n: usize) -> Draw {
    let high = random.range(600, 800);
    let mut draw = uniform(random, 1000, 1, high, n);
    while !(10..=60).contains(&(1000 - draw.lengths.iter().sum::<i64>() % 1000)) {
        let at = random.range(0, n as i64 - 1) as usize;
        draw.lengths[at] = random.range(1, high);
    }
    draw
}
