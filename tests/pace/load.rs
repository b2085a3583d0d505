//! Many clients and many searches at once: the page keeps answering.

use std::sync::Mutex;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::time::{Duration, Instant};

use serde_json::json;

use super::client::Server;
use super::{alone, within};

/// Clients at once, and searches besides the live run.
const CLIENTS: usize = 200;
const SEARCHES: usize = 19;

/// How long: `BEDWRIGHT_LOAD_SECONDS`, 10 if it is not set.
fn seconds() -> u64 {
    std::env::var("BEDWRIGHT_LOAD_SECONDS").ok().and_then(|text| text.parse().ok()).unwrap_or(10)
}

#[test]
fn two_hundred_clients_and_twenty_searches_are_kept_answering() {
    let _alone = alone();
    let server = Server::of("trade-fullsize.toml");
    let over = AtomicBool::new(false);
    let waits = Mutex::new(Vec::new());
    let searches = AtomicU64::new(0);
    let most_running = AtomicU64::new(0);
    std::thread::scope(|scope| {
        for client in 0..CLIENTS {
            let (server, over, waits) = (&server, &over, &waits);
            scope.spawn(move || {
                let path = ["/static/main.js", "/api/status", "/static/page.css", "/"][client % 4];
                let mut own = Vec::new();
                while !over.load(Ordering::Relaxed) {
                    let begun = Instant::now();
                    assert_eq!(server.get(path).status, 200);
                    own.push(begun.elapsed());
                    // A person's browser, not a hammer: 200 of them are 1000 requests a second.
                    std::thread::sleep(Duration::from_millis(200));
                }
                waits.lock().expect("the waits").extend(own);
            });
        }
        // Searches that are begun anew as soon as they end, and an edit every two seconds that begins the live run anew.
        let (server, over) = (&server, &over);
        let (searches, most_running) = (&searches, &most_running);
        scope.spawn(move || {
            while !over.load(Ordering::Relaxed) {
                let status = server.get("/api/status").json();
                let jobs = status["jobs"].as_array().expect("jobs");
                let running = jobs.iter().filter(|job| job["state"] == "running").count();
                most_running.fetch_max(running as u64, Ordering::Relaxed);
                for _ in running..SEARCHES {
                    let count = searches.fetch_add(1, Ordering::Relaxed) % 3 + 1;
                    let edits = json!([{ "at": ["gear", 1, "count"], "set": count }]);
                    let asked =
                        server.post("/api/jobs", &json!({ "kind": "trial", "edits": edits }));
                    assert_eq!(asked.status, 202, "{}", asked.text());
                }
                std::thread::sleep(Duration::from_millis(100));
            }
        });
        scope.spawn(move || {
            let mut count = 0;
            while !over.load(Ordering::Relaxed) {
                count += 1;
                let answer =
                    server.edit(json!([{ "at": ["gear", 1, "count"], "set": count % 3 + 1 }]));
                assert_eq!(answer.status, 200, "{}", answer.text());
                std::thread::sleep(Duration::from_secs(2));
            }
        });
        std::thread::sleep(Duration::from_secs(seconds()));
        over.store(true, Ordering::Relaxed);
    });
    let mut waits = waits.into_inner().expect("the waits");
    waits.sort_unstable();
    let at = |share: f64| waits[((waits.len() - 1) as f64 * share) as usize];
    let (half, p99, worst) = (at(0.5), at(0.99), at(1.0));
    let memory = server.peak_memory();
    eprintln!(
        "{} requests in {} s: median {half:?}, p99 {p99:?}, worst {worst:?}; {} searches begun, {} at once \
         and the live run; {memory} MB",
        waits.len(),
        seconds(),
        searches.load(Ordering::Relaxed),
        most_running.load(Ordering::Relaxed),
    );
    assert!(most_running.load(Ordering::Relaxed) >= SEARCHES as u64 - 1);
    // In a debug build neither the server nor its libraries are optimised, and what runs the tests is often slower than
    // where people work.
    assert!(p99 < within(100, 400), "p99 {p99:?}");
    assert!(memory < 500, "{memory} MB");
    // One more than are taken is told so.
    let trial = json!({ "kind": "trial", "edits": [] });
    let answers: Vec<u16> = (0..30).map(|_| server.post("/api/jobs", &trial).status).collect();
    assert!(answers.contains(&429), "{answers:?}");
    assert_eq!(server.get("/api/status").status, 200);
}
