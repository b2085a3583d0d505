//! The page's server attacked: each of its promises has a test that tries to break it.

use std::io::{Read, Write};
use std::thread;
use std::time::{Duration, Instant};

use serde_json::json;

use super::client::{Answer, SMALL, Server, answer};

/// What only a page of ours may do, tried with headers of the attacker's choice.
fn tried(server: &Server, headers: &str) -> Answer {
    let body = json!({ "revision": 1 }).to_string();
    server.raw(&format!(
        "POST /api/undo HTTP/1.1\r\n{headers}Content-Type: application/json\r\n\
         Content-Length: {}\r\nConnection: close\r\n\r\n{body}",
        body.len()
    ))
}

#[test]
fn a_foreign_name_that_leads_here_is_turned_away() {
    let server = Server::of(SMALL);
    let (host, cookie, port) = (&server.host, server.cookie(), server.port());
    for wrong in [
        "Host: attacker.example\r\n".to_owned(),
        format!("Host: attacker.example:{port}\r\n"),
        format!("Host: {host}.attacker.example\r\n"),
        format!("Host: 127.0.0.1:{}\r\n", port.wrapping_add(1)),
        "Host: 127.0.0.1\r\n".to_owned(),
        format!("Host: {host}\r\nHost: attacker.example\r\n"),
    ] {
        let request = format!(
            "GET /api/document HTTP/1.1\r\n{wrong}Cookie: {cookie}\r\nConnection: close\r\n\r\n"
        );
        let answer = server.raw(&request);
        assert!(matches!(answer.status, 400 | 421), "{wrong:?}: {}", answer.head);
        assert!(!answer.text().contains("[bed]"), "{wrong:?}");
    }
    let none = server.raw(&format!(
        "GET /api/document HTTP/1.1\r\nCookie: {cookie}\r\nConnection: close\r\n\r\n"
    ));
    assert!(matches!(none.status, 400 | 421), "{}", none.head);
    let named = format!(
        "GET /api/status HTTP/1.1\r\nHost: localhost:{port}\r\nCookie: {cookie}\r\nConnection: close\r\n\r\n"
    );
    assert_eq!(server.raw(&named).status, 200, "this machine's own name is meant");
}

#[test]
fn another_page_cannot_post_or_read() {
    let server = Server::of(SMALL);
    let (host, cookie) = (&server.host, server.cookie());
    for origin in [
        "Origin: http://attacker.example\r\n".to_owned(),
        format!("Origin: https://{host}\r\n"),
        format!("Origin: http://{host}.attacker.example\r\n"),
        format!("Origin: http://127.0.0.1:{}\r\n", server.port().wrapping_add(1)),
        "Origin: null\r\n".to_owned(),
        String::new(),
    ] {
        let answer = tried(&server, &format!("Host: {host}\r\nCookie: {cookie}\r\n{origin}"));
        assert_eq!(answer.status, 403, "{origin:?}: {}", answer.text());
        assert_eq!(answer.json()["code"], "origin");
        assert_eq!(answer.header("access-control-allow-origin"), None);
    }
    let read = server.raw(&format!(
        "GET /api/document HTTP/1.1\r\nHost: {host}\r\nCookie: {cookie}\r\n\
         Origin: http://attacker.example\r\nConnection: close\r\n\r\n"
    ));
    assert_eq!(read.status, 403, "{}", read.text());
    // What a form of another page can send without asking first is no JSON to us.
    let form = server.raw(&format!(
        "POST /api/undo HTTP/1.1\r\nHost: {host}\r\nOrigin: http://{host}\r\nCookie: {cookie}\r\n\
         Content-Type: text/plain\r\nContent-Length: 14\r\nConnection: close\r\n\r\n{{\"revision\":1}}"
    ));
    assert_eq!(form.status, 415, "{}", form.text());
}

#[test]
fn nobody_comes_in_without_the_key() {
    let server = Server::of(SMALL);
    let (host, port) = (&server.host, server.port());
    let cookies = [
        String::new(),
        format!("Cookie: bedwright-{port}=\r\n"),
        format!("Cookie: bedwright-{port}={}\r\n", "0".repeat(32)),
        format!("Cookie: bedwright-{port}={}x\r\n", server.key),
        format!("Cookie: bedwright-{}={}\r\n", port.wrapping_add(1), server.key),
        format!("Cookie: other={}\r\n", server.key),
    ];
    for cookie in &cookies {
        let paths =
            ["/", "/api/document", "/api/events", "/static/main.js", "/?key=", "/?key=wrong"];
        for path in paths {
            let request =
                format!("GET {path} HTTP/1.1\r\nHost: {host}\r\n{cookie}Connection: close\r\n\r\n");
            let answer = server.raw(&request);
            assert_eq!(answer.status, 401, "{cookie:?} {path}: {}", answer.head);
            assert_eq!(answer.header("set-cookie"), None);
        }
    }
    let answer = server.raw(&format!(
        "GET /?key={} HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n\r\n",
        server.key
    ));
    assert_eq!((answer.status, answer.header("location")), (303, Some("/")));
    let cookie = answer.header("set-cookie").expect("a cookie");
    assert!(cookie.contains("HttpOnly") && cookie.contains("SameSite=Strict"), "{cookie}");
    assert_eq!(server.key.len(), 32, "128 bits");
    let other = Server::of(SMALL);
    assert_ne!(server.key, other.key, "every run has its own");
}

#[test]
fn every_answer_forbids_what_a_page_does_not_need() {
    let server = Server::of(SMALL);
    let answers = [
        server.get("/"),
        server.get("/static/main.js"),
        server.get("/api/document"),
        server.get("/nowhere"),
        server.ask("POST", "/api/edit", "no json"),
        server.ask("PUT", "/api/document", "{}"),
        server.raw("GET / HTTP/1.1\r\nHost: attacker.example\r\nConnection: close\r\n\r\n"),
    ];
    for answer in &answers {
        let policy = answer.header("content-security-policy").expect("a policy");
        for wanted in
            ["default-src 'none'", "script-src 'self'", "frame-ancestors 'none'", "base-uri 'none'"]
        {
            assert!(policy.contains(wanted), "{policy}");
        }
        assert!(
            !policy.contains("unsafe") && !policy.contains("http") && !policy.contains('*'),
            "{policy}"
        );
        assert_eq!(answer.header("x-content-type-options"), Some("nosniff"));
        assert_eq!(answer.header("referrer-policy"), Some("no-referrer"));
        assert_eq!(answer.header("cache-control"), Some("no-store"));
    }
    let shell = answers[0].text();
    for script in shell.split("<script").skip(1) {
        let (tag, rest) = script.split_once('>').expect("a tag");
        assert!(tag.contains("src=\"/static/") && rest.starts_with("</script>"), "{script}");
    }
    assert!(
        !shell.contains("<style") && !shell.contains(" style=") && !shell.contains(" on"),
        "{shell}"
    );
    assert!(
        !shell.contains("http:") && !shell.contains("https:"),
        "nothing from elsewhere: {shell}"
    );
}

#[test]
fn no_path_reaches_the_file_system() {
    let server = Server::of(SMALL);
    std::fs::write(server.folder.join("secret.txt"), "a secret").expect("a file");
    let names = [
        "../secret.txt",
        "..%2fsecret.txt",
        "%2e%2e/secret.txt",
        "%2e%2e%2fsecret.txt",
        "..%5csecret.txt",
        "....//secret.txt",
        "secret.txt",
        "%2fetc%2fpasswd",
        "/etc/passwd",
        "main.js%00.txt",
        "main.js/",
        "mine.toml",
    ];
    for name in names {
        for under in ["/static/", "/api/designs/", "/api/designs/x/drawings/", "/"] {
            let answer = server.get(&format!("{under}{name}"));
            let text = answer.text();
            assert!(matches!(answer.status, 400 | 404), "{under}{name}: {}", answer.head);
            assert!(!text.contains("a secret") && !text.contains("root:"), "{under}{name}");
        }
    }
    // Nor does a name in a body: there is none that takes one.
    for key in ["file", "path", "into", "folder"] {
        let asked = json!({ "revision": 1, key: "../elsewhere.toml" });
        for path in ["/api/save", "/api/reload"] {
            assert_eq!(server.post(path, &asked).status, 422, "{path} {key}");
        }
    }
    let elsewhere = server.folder.join("../elsewhere.toml");
    assert!(!elsewhere.exists());
}

#[test]
fn large_bodies_are_refused_before_they_are_read() {
    let server = Server::of(SMALL);
    let (host, cookie) = (&server.host, server.cookie());
    let head = format!(
        "POST /api/document HTTP/1.1\r\nHost: {host}\r\nOrigin: http://{host}\r\nCookie: {cookie}\r\n\
         Content-Type: application/json\r\nConnection: close\r\n"
    );
    let text = "x".repeat(3 * 1024 * 1024);
    let asked = json!({ "revision": 1, "text": text }).to_string();
    let answer = server.raw(&format!("{head}Content-Length: {}\r\n\r\n", asked.len()));
    assert_eq!(answer.status, 413, "told by its length: {}", answer.head);
    // Without a length, endlessly.
    let mut stream = server.connect();
    stream.write_all(format!("{head}Transfer-Encoding: chunked\r\n\r\n").as_bytes()).expect("sent");
    let chunk = format!("10000\r\n{}\r\n", "x".repeat(0x10000));
    let mut sent = 0;
    while sent < 64 * 1024 * 1024 && stream.write_all(chunk.as_bytes()).is_ok() {
        sent += 0x10000;
    }
    assert!(sent < 16 * 1024 * 1024, "the server took {sent} bytes");
    assert!(server.peak_memory() < 300, "{} MB", server.peak_memory());
    // Just under the limit is read, and what it says is told.
    let long = format!("# {}\n", "x".repeat(1_900_000));
    let asked = json!({ "revision": 1, "text": long });
    let answer = server.post("/api/document", &asked);
    assert_eq!(answer.status, 200, "{}", answer.head);
    assert_eq!(answer.json()["sound"], false);
    // A head that never ends.
    let mut stream = server.connect();
    stream.write_all(b"GET / HTTP/1.1\r\n").expect("sent");
    let line = format!("X-Long: {}\r\n", "y".repeat(1000));
    let mut sent = 0;
    while sent < 8 * 1024 * 1024 && stream.write_all(line.as_bytes()).is_ok() {
        sent += line.len();
    }
    assert!(sent < 4 * 1024 * 1024, "the server took {sent} bytes of a head");
}

#[test]
fn deeply_nested_bodies_and_texts_are_refused() {
    let server = Server::of(SMALL);
    let start = r#"{"revision":1,"edits":[{"at":["bed"],"set":"#.to_owned();
    let deep = start + &"[".repeat(200_000);
    let answer = server.ask("POST", "/api/edit", &deep);
    assert_eq!(answer.status, 400, "{}", answer.head);
    let text = format!("x = {}", "[".repeat(100_000));
    let answer = server.post("/api/document", &json!({ "revision": 1, "text": text }));
    assert_eq!(answer.status, 200, "{}", answer.head);
    assert_eq!(answer.json()["sound"], false);
    assert_eq!(server.get("/api/status").status, 200, "it is still there");
}

/// How long the server keeps a connection on which nothing more comes.
fn kept_for(server: &Server, sent: &str) -> Duration {
    let mut stream = server.connect();
    stream.write_all(sent.as_bytes()).expect("sent");
    let begun = Instant::now();
    let ended = answer(&mut stream);
    assert!(matches!(ended.status, 0 | 408), "{}", ended.head);
    begun.elapsed()
}

#[test]
fn slow_clients_are_dropped() {
    let server = Server::of(SMALL);
    let (host, cookie) = (&server.host, server.cookie());
    let body = format!(
        "POST /api/undo HTTP/1.1\r\nHost: {host}\r\nOrigin: http://{host}\r\nCookie: {cookie}\r\n\
         Content-Type: application/json\r\nContent-Length: 1000\r\n\r\n{{"
    );
    let nothing = String::new();
    let head = "GET / HTTP/1.1\r\nHost: ".to_owned();
    thread::scope(|scope| {
        for sent in [&nothing, &head, &body] {
            let server = &server;
            scope.spawn(move || {
                let kept = kept_for(server, sent);
                assert!(kept < Duration::from_secs(25), "kept for {kept:?} after {sent:?}");
            });
        }
        // One that drips a byte a second is no better.
        let server = &server;
        scope.spawn(move || {
            let mut stream = server.connect();
            stream.write_all(b"GET / HTTP/1.1\r\nX: ").expect("sent");
            let begun = Instant::now();
            while stream.write_all(b"y").is_ok() {
                assert!(begun.elapsed() < Duration::from_secs(30), "it may go on for ever");
                thread::sleep(Duration::from_secs(1));
            }
        });
        // Others are served meanwhile.
        scope.spawn(move || {
            for _ in 0..20 {
                let begun = Instant::now();
                assert_eq!(server.get("/api/status").status, 200);
                assert!(begun.elapsed() < Duration::from_secs(2), "{:?}", begun.elapsed());
                thread::sleep(Duration::from_millis(500));
            }
        });
    });
}

#[test]
fn who_does_not_read_is_dropped() {
    let server = Server::of(SMALL);
    let designs = server.designs();
    let id = designs["designs"][0]["id"].as_str().expect("a design").to_owned();
    let (host, cookie) = (&server.host, server.cookie());
    // Many large answers on one connection, none of them read: more than the system's buffers take.
    let request =
        format!("GET /api/designs/{id} HTTP/1.1\r\nHost: {host}\r\nCookie: {cookie}\r\n\r\n");
    let mut stream = server.connect();
    stream.write_all(request.repeat(200).as_bytes()).expect("sent");
    thread::sleep(Duration::from_secs(28));
    let mut bytes = Vec::new();
    let _ = stream.read_to_end(&mut bytes);
    let whole = server.get(&format!("/api/designs/{id}")).body.len();
    assert!(bytes.len() < 150 * whole, "{} bytes came of {}", bytes.len(), 200 * whole);
}

#[test]
fn more_connections_than_it_takes_do_not_lock_it_up() {
    let server = Server::of(SMALL);
    let idle: Vec<_> = (0..600).map(|_| server.connect()).collect();
    let begun = Instant::now();
    assert_eq!(server.get("/api/status").status, 200);
    assert!(begun.elapsed() < Duration::from_secs(30), "{:?}", begun.elapsed());
    drop(idle);
    assert_eq!(server.get("/api/status").status, 200);
}

#[test]
fn other_machines_are_let_in_only_when_told_and_with_the_key() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let server = Server::start(folder.path(), &["--bind", "0.0.0.0"]);
    let port = server.port();
    assert_eq!(server.get("/api/status").status, 200);
    let cookie = server.cookie();
    let ask = |host: &str, cookie: &str| {
        server.raw(&format!(
            "GET /api/status HTTP/1.1\r\nHost: {host}\r\n{cookie}Connection: close\r\n\r\n"
        ))
    };
    let with = format!("Cookie: {cookie}\r\n");
    assert_eq!(ask(&format!("192.168.7.9:{port}"), &with).status, 200, "by its address");
    assert_eq!(ask(&format!("192.168.7.9:{port}"), "").status, 401, "not without the key");
    assert_eq!(ask(&format!("attacker.example:{port}"), &with).status, 421, "by no name");
    server.signal("INT");
    let (status, said, _) = server.end();
    assert!(status.success() && said.contains("Warning: other machines"), "{said}");
    // Without being told it listens on this machine's own address alone.
    let server = Server::start(folder.path(), &[]);
    assert!(server.host.starts_with("127.0.0.1:"), "{}", server.host);
}
