//! Live exploring and the designs, held to the command line.

use std::io::Read;
use std::process::Command;
use std::time::Duration;

use serde_json::{Value, json};

use super::client::{SMALL, Server};

/// What `explore --json` lists for the server's scenario.
fn by_command_line(server: &Server) -> Value {
    let output = Command::new(assert_cmd::cargo::cargo_bin!("bedwright"))
        .args(["explore", "mine.toml", "--json", "--quiet", "--top", "1000"])
        .current_dir(&server.folder)
        .output()
        .expect("explore");
    serde_json::from_slice(&output.stdout).expect("a result document")
}

#[test]
fn the_final_ranking_is_the_command_lines_and_scores_follow_from_shares() {
    ranks_as_the_command_line(&Server::of("van-birch.toml"));
}

#[test]
fn what_fits_demand_is_designed_for_as_by_the_command_line() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let small = include_str!("../page/small.toml");
    let gaps = |text: &str| {
        std::fs::write(folder.path().join("mine.toml"), text).expect("a scenario");
        let server = Server::start(folder.path(), &["mine.toml"]);
        ranks_as_the_command_line(&server);
        by_command_line(&server)["scenario"]["allowances"].clone()
    };
    let demanding = format!("{small}\n[tolerance]\ndemand = \"worst-case\"\n");
    assert_ne!(gaps(small), gaps(&demanding), "the demand takes wider gaps");
}

fn ranks_as_the_command_line(server: &Server) {
    let listed = server.designs();
    assert_eq!((&listed["is_final"], &listed["stopped_by"]), (&json!(true), &Value::Null));
    let result = by_command_line(server);
    let theirs = result["designs"].as_array().expect("designs");
    let ours = listed["designs"].as_array().expect("designs");
    assert!(!ours.is_empty() && ours.len() == theirs.len(), "{} of {}", ours.len(), theirs.len());
    for (ours, theirs) in ours.iter().zip(theirs) {
        for key in ["id", "rank", "score", "undominated", "words"] {
            assert_eq!(ours[key], theirs[key], "{key}");
        }
        // As the page does it when the weights are moved.
        let keys: Vec<&str> = listed["criteria"]
            .as_array()
            .expect("criteria")
            .iter()
            .filter_map(|criterion| criterion["key"].as_str())
            .collect();
        let number = |value: &Value| value.as_f64().expect("a number");
        let total = keys.iter().fold(0.0, |sum, key| sum + number(&listed["weights"][*key]));
        let score = keys.iter().fold(0.0, |sum, key| {
            sum + 100.0 * number(&listed["weights"][*key]) * number(&ours["shares"][*key]) / total
        });
        assert_eq!(score, number(&ours["score"]), "to the last bit");
    }
    assert_eq!(listed["score_bound"], result["bounds"]["best_possible_score"]);
    assert_eq!(sentences(&listed["reasons"]), sentences(&result["explanations"]));
}

/// What some reasons say.
fn sentences(reasons: &Value) -> Vec<&Value> {
    reasons.as_array().expect("reasons").iter().map(|one| &one["sentence"]).collect()
}

#[test]
fn what_the_first_design_leaves_out_is_told_with_the_list() {
    let server = Server::of(SMALL);
    let wardrobe = json!({ "name": "Wardrobe", "size": [50, 40, 16], "weight": 20, "worth": 5 });
    server.edit(json!([{ "at": ["gear"], "insert": wardrobe }]));
    let listed = server.designs();
    let [told] = sentences(&listed["reasons"])[..] else { panic!("{}", listed["reasons"]) };
    let told = told.as_str().expect("a sentence");
    let id = listed["designs"][0]["id"].as_str().expect("an id");
    assert!(told.starts_with(&format!("Design {id} leaves out Wardrobe: ")), "{told}");
    let seen = server.get(&format!("/api/designs/{id}")).json();
    assert_eq!(seen["left_out"], listed["reasons"], "the same words where the design is seen");
}

#[test]
fn what_was_put_where_it_cannot_be_is_named_first_with_why_and_what_would_do() {
    let server = Server::of(SMALL);
    // Two tiers of two, and a B1 that is too low for the bag that is put there.
    server.edit(json!([
        { "at": ["chest", "tiers"], "set": 2 }, { "at": ["chest", "columns"], "set": 2 },
        { "at": ["chest", "members"], "set": "3/4 plywood" },
        { "at": ["gear", 3, "in"], "set": "B1" }, { "at": ["drawer"], "insert": { "name": "B1", "height": 4 } },
    ]));
    let listed = server.designs();
    assert_eq!(listed["designs"], json!([]));
    let told = listed["reasons"][0]["sentence"].as_str().expect("why");
    assert!(told.starts_with("Tool bag must stand in B1, but is "), "{told}");
    assert!(told.contains(" too high for that drawer"), "{told}");
    let why = server.job(&json!({ "kind": "why" }));
    let lines = why["answer"]["lines"].as_array().expect("lines").iter();
    let texts: Vec<&str> = lines.filter_map(|line| line["text"].as_str()).map(str::trim).collect();
    let heading = texts.iter().position(|text| *text == "No design satisfies the scenario");
    let first = heading.and_then(|at| texts.get(at + 1)).expect("a sentence below the heading");
    assert!(first.starts_with("Tool bag must stand in B1"), "{texts:#?}");
    for cure in ["Tool bag wherever it fits", "Tool bag left at home"] {
        assert!(texts.iter().any(|text| text.ends_with(cure)), "{cure}: {texts:#?}");
    }
}

#[test]
fn events_tell_of_a_change_then_of_its_run_and_never_go_back() {
    let server = Server::of(SMALL);
    server.designs();
    let mut events = server.events();
    let first = events.next("run", |run| run["state"] == "done");
    let edited = server.edit(json!([{ "at": ["bed", "length"], "set": "61" }])).json();
    let (mut last, mut told) = (first.clone(), false);
    while last["state"] != "done" || last["run"] == first["run"] {
        let (kind, news) = events.any();
        if kind == "document" {
            assert_eq!(news["revision"], edited["revision"]);
            told = true;
        }
        if kind != "run" {
            continue;
        }
        assert!(told, "a run before the change that it is of");
        let of_run = ["found", "designs", "elapsed_ms"];
        let same = news["run"] == last["run"];
        for grows in ["run", "revision"].into_iter().chain(of_run.into_iter().filter(|_| same)) {
            assert!(news[grows].as_u64() >= last[grows].as_u64(), "{grows}: {last} then {news}");
        }
        last = news;
    }
    assert!(
        last["designs"].as_u64() > first["designs"].as_u64() && last["best"].is_f64(),
        "{last}"
    );
    assert!(last["bound"].as_f64() >= last["best"].as_f64(), "{last}");
    assert_eq!(server.get("/api/designs").json()["version"], last["designs"]);
}

#[test]
fn edits_while_a_run_is_going_end_with_the_last() {
    let server = Server::of(SMALL);
    for count in 1..=12 {
        let answer = server.edit(json!([{ "at": ["gear", 1, "count"], "set": count % 3 + 1 }]));
        assert_eq!(answer.status, 200);
        std::thread::sleep(Duration::from_millis(30));
    }
    let listed = server.designs();
    assert_eq!(listed["revision"], server.document()["revision"]);
    server.post("/api/save", &json!({ "revision": listed["revision"] }));
    let result = by_command_line(&server);
    assert_eq!(listed["designs"][0]["id"], result["designs"][0]["id"]);
    assert_eq!(
        listed["designs"].as_array().map(Vec::len),
        result["designs"].as_array().map(Vec::len)
    );
}

#[test]
fn a_design_is_seen_from_every_side() {
    let server = Server::of(SMALL);
    let listed = server.designs();
    let id = listed["designs"][0]["id"].as_str().expect("an id");
    let seen = server.get(&format!("/api/designs/{id}")).json();
    let result = by_command_line(&server);
    assert_eq!(seen["design"], result["designs"][0], "the same design as on the command line");
    for name in ["parts", "shopping", "gear", "checks"] {
        assert!(!seen["tables"][name]["rows"].as_array().expect("rows").is_empty(), "{name}");
    }
    assert!(!seen["cautions"].as_array().expect("cautions").is_empty());
    for drawing in seen["drawings"].as_array().expect("drawings") {
        let name = drawing["name"].as_str().expect("a name");
        let svg = server.get(&format!("/api/designs/{id}/drawings/{name}.svg"));
        assert_eq!(svg.header("content-type"), Some("image/svg+xml"), "{name}");
        roxmltree::Document::parse(&svg.text()).expect("an SVG");
    }
    let solids = server.get(&format!("/api/designs/{id}/solid")).json();
    let solids = solids.as_array().expect("solids");
    let drawers = seen["design"]["drawers"].as_array().expect("drawers");
    for drawer in drawers {
        let moving = solids.iter().filter(|solid| solid["drawer"] == drawer["name"]).count();
        let wood = drawer["boards"].as_array().expect("boards").len();
        let gear = drawer["gear"].as_array().expect("gear").len();
        let loose = drawer["loose"].as_array().expect("loose").len();
        assert_eq!(moving, wood + gear + loose, "{}", drawer["name"]);
    }
    for solid in solids {
        let at: Vec<f64> =
            solid["box"].as_array().expect("six").iter().filter_map(Value::as_f64).collect();
        assert!((0..3).all(|axis| at[axis] < at[axis + 3]), "{solid}");
    }
    assert!(solids.iter().any(|solid| solid["kind"] == "deck"));
    assert_eq!(server.get("/api/designs/0000000").status, 404);
}

#[test]
fn a_set_comes_as_booklet_archive_and_folder() {
    let server = Server::of(SMALL);
    let id = server.designs()["designs"][0]["id"].as_str().expect("an id").to_owned();
    let booklet = server.get(&format!("/api/designs/{id}/booklet.pdf?paper=a4"));
    assert!(booklet.body.starts_with(b"%PDF-") && booklet.body.len() > 50_000);
    let how = booklet.header("content-disposition").expect("a name");
    assert!(how.starts_with("attachment") && how.contains(&id), "{how}");
    let archive = server.get(&format!("/api/designs/{id}/set.zip"));
    let mut archive = zip::ZipArchive::new(std::io::Cursor::new(archive.body)).expect("an archive");
    let into = format!("/api/designs/{id}/into");
    let written = server.post(&into, &json!({})).json();
    let files = written["files"].as_array().expect("files");
    assert_eq!(files.len(), archive.len());
    for file in files {
        let name = file.as_str().expect("a name");
        let mut packed = Vec::new();
        let mut entry = archive.by_name(&format!("set/{name}")).expect("the same file");
        entry.read_to_end(&mut packed).expect("its bytes");
        let on_disk = std::fs::read(server.folder.join("set").join(name)).expect("on disk");
        // The PDF's own date aside both are made alike.
        assert!(packed == on_disk || name.ends_with(".pdf"), "{name}");
    }
    let parts = server.folder.join("set/parts.csv");
    std::fs::write(&parts, "mine").expect("a change by hand");
    let refused = server.post(&into, &json!({}));
    assert_eq!((refused.status, &refused.json()["code"]), (409, &json!("in_the_way")));
    assert_eq!(std::fs::read_to_string(&parts).expect("parts"), "mine");
    assert_eq!(server.post(&format!("{into}?over=true"), &json!({})).status, 200);
    assert_ne!(std::fs::read_to_string(&parts).expect("parts"), "mine");
    let folder = tempfile::tempdir().expect("a temporary folder");
    let without = Server::start(folder.path(), &[]);
    let id = without.designs()["designs"][0]["id"].as_str().expect("an id").to_owned();
    let refused = without.post(&format!("/api/designs/{id}/into"), &json!({}));
    assert_eq!((refused.status, &refused.json()["code"]), (422, &json!("no_folder")));
    assert_eq!(std::fs::read_dir(folder.path()).expect("the folder").count(), 0);
}

#[test]
fn a_shared_file_holds_everything_and_runs_nothing() {
    let server = Server::of(SMALL);
    let listed = server.designs();
    let ids: Vec<&str> = listed["designs"]
        .as_array()
        .expect("designs")
        .iter()
        .take(2)
        .filter_map(|design| design["id"].as_str())
        .collect();
    let answer = server.get(&format!("/api/share?ids={}", ids.join(",")));
    assert_eq!(answer.status, 200, "{}", answer.text());
    let page = answer.text();
    assert!(!page.contains("<script") && !page.contains("<link") && !page.contains("<img"));
    for word in ["http://", "https://"] {
        let foreign = page
            .match_indices(word)
            .filter(|(at, _)| !page[*at..].starts_with("http://www.w3.org/2000/svg"));
        assert_eq!(foreign.count(), 0, "nothing is fetched");
    }
    let svgs = page.matches("<svg").count();
    let style = page.split("<style>").nth(1).and_then(|rest| rest.split("</style>").next());
    let digest = {
        use base64::Engine;
        use sha2::Digest;
        let digest = sha2::Sha256::digest(style.expect("a style").as_bytes());
        base64::engine::general_purpose::STANDARD.encode(digest)
    };
    assert!(page.contains(&format!("style-src 'sha256-{digest}'")), "the policy names the style");
    for id in &ids {
        assert!(page.contains(&format!("Design {id}")));
        let seen = server.get(&format!("/api/designs/{id}")).json();
        assert!(svgs >= seen["drawings"].as_array().expect("drawings").len());
    }
    assert_eq!(server.get("/api/share?ids=").status, 422);
    assert_eq!(server.get("/api/share?ids=0000000").status, 404);
}

#[test]
fn why_compare_and_trials_answer_as_the_command_line_does() {
    // Explaining a demo explores it a hundred times anew: minutes in a debug build.
    let server = Server::of(SMALL);
    let listed = server.designs();
    let best = &listed["designs"][0]["id"];
    let why = server.job(&json!({ "kind": "why", "design": best }));
    assert_eq!(why["state"], "done", "{why}");
    let output = Command::new(assert_cmd::cargo::cargo_bin!("bedwright"))
        .args(["explain", "mine.toml", "--json", "--quiet"])
        .current_dir(&server.folder)
        .output()
        .expect("explain");
    let theirs: Value = serde_json::from_slice(&output.stdout).expect("an explanation");
    assert_eq!(why["answer"]["document"]["worth"], theirs["worth"]);
    let compared = server.job(&json!({ "kind": "compare_by", "by": "columns" }));
    assert_eq!(compared["state"], "done", "{compared}");
    assert!(compared["answer"]["lines"].as_array().expect("lines").len() > 5);
    let both = json!({ "kind": "compare", "designs": [best, listed["designs"][1]["id"]] });
    let compared = server.job(&both);
    assert_eq!(compared["answer"]["document"]["choices"].as_array().map(Vec::len), Some(2));
    let before = server.document();
    let wider = json!([{ "at": ["gear", 0, "count"], "set": 2 }]);
    let trial = server.job(&json!({ "kind": "trial", "edits": wider }));
    assert_eq!(trial["state"], "done", "{trial}");
    assert!(!trial["answer"]["designs"].as_array().expect("designs").is_empty());
    assert_eq!(server.document()["text"], before["text"], "a trial changes nothing");
    let of_trial = trial["answer"]["designs"][0]["id"].as_str().expect("an id");
    assert_eq!(server.get(&format!("/api/designs/{of_trial}")).status, 200);
    let unknown = server.job(&json!({ "kind": "why", "design": "zzzzzzz" }));
    assert_eq!(unknown["state"], "failed");
    assert!(unknown["what"].as_str().is_some_and(|what| what.contains("zzzzzzz")));
}
