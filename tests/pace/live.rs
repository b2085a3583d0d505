//! How soon a first design comes, and how soon a search ends that nobody wants.

use std::time::{Duration, Instant};

use serde_json::{Value, json};

use super::client::Server;
use super::{alone, optimised, within};

/// The demos, save those whose whole search takes long in a debug build.
fn demos() -> &'static [&'static str] {
    if optimised() {
        &["trade-fullsize.toml", "camping-midsize.toml", "van-birch.toml"]
    } else {
        &["van-birch.toml"]
    }
}

/// When searches are called off, ms after they were begun.
fn pauses() -> &'static [u64] {
    if optimised() {
        &[0, 60, 150, 300, 700, 1200, 1700, 2200, 2700, 3200, 3700, 4500, 6000]
    } else {
        &[0, 60, 300, 1200, 2700]
    }
}

#[test]
fn a_first_design_comes_at_once_and_better_ones_follow() {
    let _alone = alone();
    for demo in demos() {
        let server = Server::of(demo);
        server.designs();
        let mut tab = server.events();
        let begun = Instant::now();
        let edited = server.edit(json!([{ "at": ["title"], "set": "Edited" }])).json();
        let revision = edited["revision"].clone();
        let first = tab.next("run", |run| run["revision"] == revision && run["first_ms"].is_u64());
        let waited = begun.elapsed();
        let listed = server.get("/api/designs").json();
        assert_eq!(listed["revision"], revision, "{first}");
        assert!(!listed["designs"].as_array().expect("designs").is_empty());
        let done = tab.next("run", |run| run["revision"] == revision && run["state"] == "done");
        eprintln!("{demo}: first design after {waited:?}, all after {:?}", begun.elapsed());
        assert!(waited < within(300, 1500), "{demo}: {waited:?}");
        let number = |run: &Value, key: &str| run[key].as_f64().expect("a number");
        assert!(number(&done, "designs") > number(&first, "designs"), "lists came in between");
        assert!(number(&done, "bound") >= number(&done, "best"));
        let last = server.get("/api/designs").json();
        assert_eq!(last["designs"][0]["score"], done["best"]);
        let place = |list: &Value| {
            let first = &list["designs"][0];
            (-number(first, "beyond"), number(first, "score"))
        };
        assert!(place(&last) >= place(&listed), "{:?} after {:?}", place(&last), place(&listed));
    }
}

#[test]
fn a_search_that_is_called_off_stops_at_once() {
    let _alone = alone();
    for demo in demos() {
        let server = Server::of(demo);
        server.designs();
        let mut waits = Vec::new();
        for &pause in pauses() {
            let job = server.post("/api/jobs", &json!({ "kind": "why" })).json()["job"].clone();
            std::thread::sleep(Duration::from_millis(pause));
            let path = format!("/api/jobs/{job}");
            let begun = Instant::now();
            let called_off = server.ask("DELETE", &path, "");
            assert_eq!(called_off.status, 200);
            while server.get(&path).json()["state"] == "running" {
                let so_long = begun.elapsed() < Duration::from_secs(5);
                assert!(so_long, "{demo}: it goes on after {pause} ms");
            }
            assert_eq!(server.get(&path).json()["state"], "cancelled");
            let stage = called_off.json()["stage"].clone();
            waits.push((pause, stage.to_string(), begun.elapsed()));
        }
        eprintln!("{demo}, called off after so many ms, at a stage, and ended after: {waits:?}");
        let most = within(100, 400);
        assert!(waits.iter().all(|(_, _, wait)| *wait < most), "{demo}: {waits:?}");
    }
}
