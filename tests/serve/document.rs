//! The document: text and fields are the same thing, and nothing of it is ever lost.

use std::fs;
use std::process::Command;
use std::time::{Duration, Instant};

use serde_json::{Value, json};

use super::client::{SMALL, Server};

#[test]
fn an_edit_keeps_comments_order_and_unknown_keys() {
    let server = Server::of("trade-fullsize.toml");
    let before = server.document();
    let text = before["text"].as_str().expect("a text");
    assert_eq!(before["fields"]["bed"]["width"], "65 1/2");
    assert_eq!(before["fields"]["gear"][0]["size"], json!(["19", "14 1/2", "5 1/2"]));
    let answer = server.edit(json!([
        { "at": ["bed", "width"], "typed": "66" },
        { "at": ["bed", "wells", "height"], "typed": "9 in" },
        { "at": ["gear", 1, "count"], "set": 3 },
        { "at": ["gear", 0, "size", 1], "typed": "14" },
    ]));
    assert_eq!(answer.status, 200, "{}", answer.text());
    let after = answer.json();
    let wanted = text
        .replace("width = \"65 1/2\" ", "width = 66 ")
        .replace("height = \"9 1/4\" }", "height = \"9 in\" }")
        .replacen("count = 2", "count = 3", 1)
        .replacen("size = [19, \"14 1/2\", \"5 1/2\"]", "size = [19, 14, \"5 1/2\"]", 1);
    assert_eq!(after["text"], wanted, "nothing else changed");
    assert_eq!((&before["revision"], &after["revision"]), (&json!(1), &json!(2)));
    let answer = server.edit(json!([{ "at": ["bed", "colour"], "set": "red" }]));
    assert_eq!(answer.json()["sound"], false, "an unknown key is a fault, and stays");
    let fault = answer.json()["faults"][0].clone();
    assert_eq!(fault["path"], json!(["bed", "colour"]));
    let answer = server.edit(json!([{ "at": ["bed", "depth"], "typed": "21" }]));
    assert!(answer.json()["text"].as_str().is_some_and(|text| text.contains("colour = \"red\"")));
}

#[test]
fn undo_and_redo_go_through_every_change() {
    let server = Server::of(SMALL);
    let texts: Vec<Value> = (1..=5)
        .map(|count| {
            let at = json!(["gear", 0, "count"]);
            server.edit(json!([{ "at": at, "set": count }])).json()["text"].clone()
        })
        .collect();
    let step = |path: &str| {
        let revision = server.get("/api/status").json()["revision"].clone();
        server.post(path, &json!({ "revision": revision }))
    };
    for text in texts.iter().rev().skip(1) {
        assert_eq!(step("/api/undo").json()["text"], *text);
    }
    for text in texts.iter().skip(1) {
        assert_eq!(step("/api/redo").json()["text"], *text);
    }
    assert_eq!(step("/api/redo").status, 422, "there is nothing more");
}

#[test]
fn a_stale_change_is_refused_and_told_what_is_there() {
    let server = Server::of(SMALL);
    let edit = json!([{ "at": ["gear", 0, "count"], "set": 2 }]);
    assert_eq!(server.post("/api/edit", &json!({ "revision": 1, "edits": edit })).status, 200);
    let late = json!([{ "at": ["gear", 0, "count"], "set": 7 }]);
    let answer = server.post("/api/edit", &json!({ "revision": 1, "edits": late }));
    assert_eq!((answer.status, &answer.json()["code"]), (409, &json!("stale")));
    assert_eq!(answer.json()["document"]["fields"]["gear"][0]["count"], "2");
    let answer = server.post("/api/document", &json!({ "revision": 1, "text": "" }));
    assert_eq!(answer.status, 409);
}

#[test]
fn two_tabs_see_each_others_edits_at_once() {
    let server = Server::of(SMALL);
    let mut tabs = [server.events(), server.events()];
    for tab in &mut tabs {
        tab.next("document", |document| document["revision"] == 1);
    }
    let begun = Instant::now();
    server.edit(json!([{ "at": ["gear", 0, "count"], "set": 2 }]));
    for tab in &mut tabs {
        tab.next("document", |document| document["revision"] == 2);
        tab.next("run", |run| run["revision"] == 2);
    }
    assert!(begun.elapsed() < Duration::from_secs(2), "{:?}", begun.elapsed());
    // Both change at once: one of them wins, the other is told, and no change is lost.
    let won: Vec<u16> = std::thread::scope(|scope| {
        let ask = |count: u64| {
            let edit = json!([{ "at": ["gear", 0, "count"], "set": count }]);
            server.post("/api/edit", &json!({ "revision": 2, "edits": edit })).status
        };
        let tabs: Vec<_> =
            [3, 4].map(|count| scope.spawn(move || ask(count))).into_iter().collect();
        tabs.into_iter().map(|tab| tab.join().expect("an answer")).collect()
    });
    let mut sorted = won.clone();
    sorted.sort_unstable();
    assert_eq!(sorted, [200, 409]);
}

#[test]
fn faults_are_those_of_the_command_line_at_their_fields() {
    let server = Server::of("trade-fullsize.toml");
    let answer = server.edit(json!([
        { "at": ["gear", 2, "size", 0], "typed": "16 1/3" },
        { "at": ["gear", 3, "weight"], "remove": true },
        { "at": ["bed", "widht"], "typed": "60" },
        { "at": ["bed", "wells", "height"], "typed": "90" },
    ]));
    let document = answer.json();
    let text = document["text"].as_str().expect("a text");
    let faults = document["faults"].as_array().expect("faults");
    let paths: Vec<&Value> = faults.iter().map(|fault| &fault["path"]).collect();
    for path in [
        json!(["gear", 2, "size", 0]),
        json!(["gear", 3, "weight"]),
        json!(["bed", "widht"]),
        json!(["bed", "wells", "height"]),
    ] {
        assert!(paths.contains(&&path), "{path} is none of {paths:?}");
    }
    fs::write(server.folder.join("faulty.toml"), text).expect("a file");
    let vet = Command::new(assert_cmd::cargo::cargo_bin!("bedwright"))
        .args(["vet", "faulty.toml", "--color", "never"])
        .current_dir(&server.folder)
        .output()
        .expect("vet");
    let words = |text: &str| text.split_whitespace().collect::<String>().replace('│', "");
    let said = words(&String::from_utf8_lossy(&vet.stderr));
    for fault in faults {
        let what = words(fault["what"].as_str().expect("words"));
        assert!(said.contains(&what), "vet does not say {what}: {said}");
        if fault["path"] == json!(["gear", 2, "size", 0]) {
            let units: Vec<u16> = text.encode_utf16().collect();
            let place = |key: &str| fault[key].as_u64().map(|at| at as usize).expect("a place");
            let marked = String::from_utf16_lossy(&units[place("from")..place("to")]);
            assert!(marked.contains("1/3"), "{marked}");
        }
    }
    assert_eq!(faults.len(), said.matches('×').count(), "each once: {said}");
    assert_eq!(document["sound"], false);
}

#[test]
fn a_text_that_is_no_toml_can_be_mended_as_text_only() {
    let server = Server::of(SMALL);
    let broken = "[bed\nlength = 3\n";
    let answer = server.post("/api/document", &json!({ "revision": 1, "text": broken }));
    let document = answer.json();
    assert_eq!(document["fields"], Value::Null);
    assert_eq!(document["faults"][0]["code"], "syntax");
    assert_eq!(document["faults"][0]["line"], 1);
    let refused = server.edit(json!([{ "at": ["bed", "length"], "typed": "4" }]));
    assert_eq!((refused.status, &refused.json()["code"]), (422, &json!("syntax")));
    assert_eq!(server.document()["text"], broken, "nothing changed");
    let status = server.get("/api/status").json();
    assert_eq!(status["run"]["state"], "idle");
}

#[test]
fn saving_is_whole_and_never_over_what_another_wrote() {
    let server = Server::of(SMALL);
    let file = server.folder.join("mine.toml");
    let original = fs::read_to_string(&file).expect("the file");
    let edited = server.edit(json!([{ "at": ["gear", 0, "count"], "set": 2 }])).json();
    assert_eq!(
        (&edited["saved"], fs::read_to_string(&file).expect("the file")),
        (&json!(false), original)
    );
    let saved = server.post("/api/save", &json!({ "revision": 2 }));
    assert_eq!((saved.status, &saved.json()["saved"]), (200, &json!(true)));
    assert_eq!(json!(fs::read_to_string(&file).expect("the file")), edited["text"]);
    let theirs = "# theirs\n".to_owned() + edited["text"].as_str().expect("a text");
    let mut tab = server.events();
    tab.next("document", |_| true);
    fs::write(&file, &theirs).expect("another program");
    tab.next("document", |document| document["revision"] == 2);
    assert_eq!(server.document()["changed_outside"], true);
    server.edit(json!([{ "at": ["gear", 0, "count"], "set": 3 }]));
    let refused = server.post("/api/save", &json!({ "revision": 3 }));
    assert_eq!((refused.status, &refused.json()["code"]), (409, &json!("changed_outside")));
    assert_eq!(fs::read_to_string(&file).expect("the file"), theirs, "nothing was written");
    let reloaded = server.post("/api/reload", &json!({ "revision": 3 })).json();
    assert_eq!((&reloaded["text"], &reloaded["saved"]), (&json!(theirs), &json!(true)));
    let undone = server.post("/api/undo", &json!({ "revision": 4 })).json();
    assert_eq!(undone["fields"]["gear"][0]["count"], "3", "mine is not lost");
    fs::write(&file, "# theirs again\n").expect("another program");
    let over = server.post("/api/save", &json!({ "revision": 5, "over": true }));
    assert_eq!(over.status, 200, "{}", over.text());
    assert_eq!(json!(fs::read_to_string(&file).expect("the file")), over.json()["text"]);
    let left: Vec<_> = fs::read_dir(&server.folder).expect("the folder").flatten().collect();
    assert_eq!(left.len(), 1, "no temporary file stays: {left:?}");
}

#[test]
fn what_was_not_saved_outlives_the_server() {
    let server = Server::of(SMALL);
    let edited = server.edit(json!([{ "at": ["gear", 0, "count"], "set": 9 }])).json();
    server.signal("KILL");
    let (_, _, folder) = server.end();
    let folder = folder.expect("its folder");
    let server = Server::start(folder.path(), &["mine.toml"]);
    let document = server.document();
    assert_eq!((&document["text"], &document["recovered"]), (&edited["text"], &json!(true)));
    let undone = server.post("/api/undo", &json!({ "revision": document["revision"] })).json();
    assert_eq!(undone["saved"], true, "undoing leads to the file");
    let redone = server.post("/api/redo", &json!({ "revision": undone["revision"] })).json();
    server.signal("INT");
    let begun = Instant::now();
    let (status, said, _) = server.end();
    assert!(status.success() && said.contains("mine.toml.unsaved"), "{status}: {said}");
    assert!(begun.elapsed() < Duration::from_secs(3), "{:?}", begun.elapsed());
    let server = Server::start(folder.path(), &["mine.toml"]);
    let saved = server.post("/api/save", &json!({ "revision": server.document()["revision"] }));
    assert_eq!(saved.json()["text"], redone["text"]);
    assert!(!folder.path().join("mine.toml.unsaved").exists(), "what is saved is not kept twice");
}

#[test]
fn control_c_ends_it_cleanly_with_tabs_open_and_a_run_going() {
    let server = Server::of("trade-fullsize.toml");
    let _tab = server.events();
    let job = server.post("/api/jobs", &json!({ "kind": "why" }));
    assert_eq!(job.status, 202);
    server.signal("INT");
    let begun = Instant::now();
    let (status, said, _) = server.end();
    assert!(status.success(), "{status}: {said}");
    assert!(begun.elapsed() < Duration::from_secs(2), "{:?}", begun.elapsed());
    assert!(!said.contains("unsaved") && !said.contains("panic"), "{said}");
}

#[test]
fn a_port_in_use_is_said_with_what_to_do() {
    let server = Server::of(SMALL);
    let port = server.port().to_string();
    let second = Command::new(assert_cmd::cargo::cargo_bin!("bedwright"))
        .args(["serve", "--no-open", "--port", &port])
        .current_dir(&server.folder)
        .output()
        .expect("a process");
    let said = String::from_utf8_lossy(&second.stderr);
    assert_eq!(second.status.code(), Some(2));
    assert!(said.contains(&format!("port {port} is in use")) && said.contains("--port"), "{said}");
}

#[test]
fn an_empty_start_is_a_typical_bed_to_be_measured() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let server = Server::start(folder.path(), &[]);
    let document = server.document();
    assert_eq!((&document["file"], &document["sound"]), (&Value::Null, &json!(true)));
    let marked = document["to_measure"].as_array().expect("paths").len();
    assert!(marked > 10, "{marked} values to measure");
    let measured = server.edit(json!([{ "at": ["bed", "length"], "typed": "79 1/4" }])).json();
    assert_eq!(measured["to_measure"].as_array().map(Vec::len), Some(marked - 1));
    let rows = server.get("/api/starters").json()[0]["rows"].clone();
    let many = rows.as_array().expect("rows").len();
    let longer = server.edit(json!([{ "at": ["gear"], "insert_typical": rows }])).json();
    assert_eq!(longer["to_measure"].as_array().map(Vec::len), Some(marked - 1 + 2 * many));
    let pasted = server
        .post("/api/paste", &json!({ "text": "Name\tL\tW\tH\tWeight\nJack\t11\t7\t9\t14 lb\n" }))
        .json();
    assert_eq!(pasted["faults"], json!([]));
    let longer = server.edit(json!([{ "at": ["gear"], "insert": pasted["rows"] }])).json();
    let gear = longer["fields"]["gear"].as_array().expect("rows").clone();
    assert_eq!(gear.last().expect("a row")["name"], "Jack");
    let measured = server.post("/api/measure", &json!({ "texts": ["6 ft 3 in", "1/3 in"] })).json();
    assert_eq!((&measured[0]["mm"], &measured[0]["words"]), (&json!(1905.0), &json!("75 in")));
    assert!(measured[1]["cure"].as_str().is_some_and(|cure| cure.contains("21/64")));
    let refused = server.post("/api/save", &json!({ "revision": longer["revision"] }));
    assert_eq!((refused.status, &refused.json()["code"]), (422, &json!("no_file")));
}

#[test]
fn a_full_disk_loses_nothing_and_is_told_of() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let job = folder.path().join("job.toml");
    let scenario = std::fs::read_to_string("scenarios/van-birch.toml").expect("a demo");
    std::fs::write(&job, &scenario).expect("a file");
    let server = Server::cramped(4096, folder.path(), &["job.toml", "--into", "set"]);
    let edited = server.edit(json!([{ "at": ["title"], "set": "Typed on a full disk" }])).json();
    assert!(edited["text"].as_str().expect("text").contains("Typed on a full disk"));
    let unkept = edited["unkept"].as_str().expect("it says that this is kept nowhere");
    assert!(unkept.contains("job.toml.unsaved"), "{unkept}");
    let refused = server.post("/api/save", &json!({ "revision": edited["revision"] }));
    assert_eq!((refused.status, &refused.json()["code"]), (500, &json!("not_written")));
    let said = refused.json()["what"].as_str().expect("why").to_owned();
    assert!(said.starts_with("cannot write job.toml: ") && !said.contains("tmp"), "{said}");
    assert_eq!(server.document()["text"], edited["text"], "what was typed is still there");
    let id = server.designs()["designs"][0]["id"].as_str().expect("an id").to_owned();
    let refused = server.post(&format!("/api/designs/{id}/into"), &json!({}));
    assert_eq!((refused.status, &refused.json()["code"]), (500, &json!("not_written")));
    // The file is as it was, and nothing half written lies about.
    assert_eq!(std::fs::read_to_string(&job).expect("the file"), scenario);
    assert_eq!(std::fs::read_dir(folder.path()).expect("the folder").count(), 1);
}
