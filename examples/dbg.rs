fn main() {
    let path = std::env::args().nth(1).unwrap();
    let read =
        bedwright::input::read(std::path::Path::new(&path)).map_err(|e| e.to_string()).unwrap();
    let e = bedwright::app::explore(read, Default::default(), &|_| {});
    for r in e.rejected.iter().take(2) {
        for f in &r.faults {
            println!("{f}");
        }
        for d in &r.design.drawers {
            println!(
                "{} {:?} w {} l {}",
                d.name,
                d.plan.height.to_mm(),
                d.plan.width.to_mm(),
                d.plan.length.to_mm()
            );
            for (i, b) in d.plan.dividers.iter().enumerate() {
                println!(
                    "  div {i} x {} y {} dx {} dy {}",
                    b.at.x.to_mm(),
                    b.at.y.to_mm(),
                    b.size.dx.to_mm(),
                    b.size.dy.to_mm()
                );
            }
            for it in &d.plan.items {
                let b = it.space;
                println!(
                    "  item {:?} x {} y {} z {} dx {} dy {}",
                    it.content,
                    b.at.x.to_mm(),
                    b.at.y.to_mm(),
                    b.at.z.to_mm(),
                    b.size.dx.to_mm(),
                    b.size.dy.to_mm()
                );
            }
        }
    }
}
