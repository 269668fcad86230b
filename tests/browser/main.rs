//! The built site in a real browser, under the strict policy, against the engine's own figures.
//!
//! Chromium loads the page headless and prints the document once the program has run; the checks read
//! that. `cargo xtask test` builds the site and names the browser in `CHROME`.

#![allow(clippy::disallowed_methods, reason = "what runs on the host needn't be small")]

use std::path::PathBuf;
use std::process::Command;

use drafting::wording;
use planting::manifest::CHAPTERS;
use planting::{REGISTRY, Scenario, plan};
use xtask::serve::{Server, Settings};

/// The page's document after the program has run.
fn rendered(width: u32) -> String {
    let chrome = std::env::var("CHROME").expect("run by `cargo xtask test`, which finds a browser");
    let site = PathBuf::from(
        std::env::var(xtask::BUILT_SITE).expect("run by `cargo xtask test`, which builds the site"),
    );
    let server = Server::start(&site, Settings { under: "/some/folder/".into(), ..Settings::default() })
        .expect("a free port");
    let profile = std::env::temp_dir().join(format!("rowlight-browser-{}-{width}", std::process::id()));
    let output = Command::new(chrome)
        .args(["--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run"])
        .args(["--disable-background-networking", "--disable-component-update", "--disable-sync"])
        .arg(format!("--user-data-dir={}", profile.display()))
        .arg(format!("--window-size={width},900"))
        .args(["--timeout=20000", "--virtual-time-budget=8000", "--dump-dom"])
        .arg(server.url())
        .output()
        .expect("the browser starts");
    // A profile left behind costs nothing but room.
    drop(std::fs::remove_dir_all(&profile));
    String::from_utf8_lossy(&output.stdout).into_owned()
}

/// The text of the element that carries this figure.
fn shown<'a>(page: &'a str, figure: &str) -> Option<&'a str> {
    let (_, rest) = page.split_once(&format!("data-figure=\"{figure}\""))?;
    rest.split_once('>').map(|(_, rest)| rest)
}

#[test]
fn the_page_shows_what_the_engine_computes() {
    let page = rendered(1200);
    let plan = plan(&Scenario::default()).expect("the default plan works");
    for key in ["trees_per_acre", "canopy_fill", "clear_alley"] {
        let figure = plan.figure(key).expect("a figure of the plan");
        let expected = wording::value(figure, drafting::Units::Us);
        let text = shown(&page, key).unwrap_or_else(|| panic!("{key} is not on the page: {page}"));
        let number = expected.split([' ', '/']).next().expect("a number");
        assert!(
            text.chars().take(400).collect::<String>().contains(number),
            "{key}: {expected} in {text:.400}"
        );
    }
    for view in drafting::View::ALL {
        assert!(page.contains(&format!("data-view=\"{}\"", view.key())), "{view:?} is drawn");
    }
    assert!(page.contains("ink-crown"), "crowns are drawn");
    assert!(!page.contains("boot-message"), "the page says that something went wrong");
}

#[test]
fn handles_and_fields_are_made_from_the_register() {
    // Wide enough for all drawings at once: a narrow page shows one and its handles.
    let page = rendered(1250);
    // Controls of a group that stands folded are made when it is opened; the driven cases open them all.
    let chapter = CHAPTERS.first().expect("the first chapter");
    let open = chapter.opens;
    for parameter in REGISTRY {
        let (key, group) = (parameter.key, parameter.group.key);
        assert!(page.contains(&format!("data-group=\"{group}\"")) || group == "year", "{group} is a group");
        if open.contains(&group) {
            assert!(page.contains(&format!("data-key=\"{key}\"")), "{key} has a control");
        }
    }
    for key in chapter.firsts {
        assert!(page.contains(&format!("data-key=\"{key}\"")), "{key} comes first");
    }
    for handle in ["row_width", "tree_height", "wire_heights", "in_row_spacing"] {
        assert!(page.contains(&format!("data-handle=\"{handle}\"")), "{handle} can be grabbed");
    }
}
