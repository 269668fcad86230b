//! The plan on its way out and back in: as a link, as a file, as drawings and tables.

use anyhow::{Context, Result, ensure};
use drafting::{Units, export};
use planting::manifest::CHAPTERS;
use planting::{Scenario, TrainingSystem, degrees, feet, link};
use serde_json::{Value, json};

use crate::harness::{Case, Visit, cases};
use crate::loading::STARTED;
use crate::planner::{Planner, element, scenario_of};

pub(crate) const CASES: &[Case] = cases![
    a_link_comes_back_as_the_plan,
    a_link_that_cannot_be_opened_is_said,
    files_go_out_and_come_in,
    drawings_and_tables_are_those_of_the_engine,
    the_menu_works_by_keyboard,
    no_barriers_in_any_chapter,
];

const MENU: &str = "[data-action=share-menu]";

/// Opens the planner and its menu.
fn open_menu<'a>(visit: &'a Visit, scenario: &Scenario) -> Result<Planner<'a>> {
    let planner = Planner::open_with(visit, scenario, Units::Us)?;
    planner.browser.until(&element(MENU))?;
    planner.click(MENU)?;
    Ok(planner)
}

pub(crate) fn a_link_comes_back_as_the_plan(visit: &Visit) -> Result<()> {
    let scenario = Scenario::for_system(TrainingSystem::VTrellis).with(|s| s.block.row_width = feet(14.0));
    let planner = open_menu(visit, &scenario)?;
    planner.click("[data-action=share-link]")?;
    planner.browser.until("location.hash.length > 1")?;
    let link: String = planner.browser.js("return location.hash.slice(1)")?;
    ensure!(link::read(&link) == Ok(scenario.clone()), "{link} is another plan");
    planner.browser.until(&format!("{}.value === location.href", element(".rl-menu-link")))?;
    // An edit makes the address name no plan; the link then still opens the plan it was made of.
    planner.enter("row_width", "15")?;
    planner.browser.until("location.hash === ''")?;
    visit.browser.js::<()>(&format!("location.hash = {}", json!(link)))?;
    planner.browser.until(&format!("{}.value === '14'", element("[data-key=row_width][data-role=field]")))?;
    planner.expect(&scenario)?;
    // In another browser it opens from the start, and a reader's own plan is one step back.
    let own = Scenario::default().with(|s| s.block.row_width = feet(11.0));
    visit.browser.open("about:blank")?;
    let planner = Planner::open_with(visit, &own, Units::Us)?;
    visit.browser.open("about:blank")?;
    planner.browser.open(&format!("{}#{link}", visit.server.url()))?;
    planner.browser.until(STARTED)?;
    ensure!(planner.read()?.scenario()? == scenario);
    planner.click("[data-action=undo]")?;
    ensure!(planner.read()?.scenario()? == own, "the reader's own plan is lost");
    Ok(())
}

fn a_link_that_cannot_be_opened_is_said(visit: &Visit) -> Result<()> {
    for (link, said) in [
        ("1.KsAwYQQ", "cut short"),
        ("9.KsAwYQ", "edition"),
        ("part-two", "no plan"),
        ("%E0%A4%A", "no plan"),
    ] {
        visit.browser.open("about:blank")?;
        visit.open(&format!("index.html#{link}"))?;
        visit.browser.until(&element("[data-notice=refused]"))?;
        let words: String =
            visit.browser.js(&format!("return {}.textContent", element("[data-notice=refused]")))?;
        ensure!(words.contains(said), "{link}: {words}");
    }
    Ok(())
}

/// Keeps what is downloaded in `window.saved` instead of on the disk.
const CATCH: &str = "
    window.saved = {};
    const made = new Map();
    const make = URL.createObjectURL.bind(URL);
    URL.createObjectURL = (blob) => { const address = make(blob); made.set(address, blob); return address; };
    HTMLAnchorElement.prototype.click = function () { saved[this.download] = made.get(this.href); };";

fn files_go_out_and_come_in(visit: &Visit) -> Result<()> {
    let scenario = Scenario::default().with(|s| s.block.in_row_spacing = feet(4.0));
    let planner = open_menu(visit, &scenario)?;
    planner.browser.js::<()>(CATCH)?;
    planner.click("[data-action=save-file]")?;
    let file: String = planner.browser.js("return await saved['rowlight-plan.json'].text()")?;
    let object: Value = serde_json::from_str(&file)?;
    ensure!(scenario_of(&object)? == scenario && object["units"] == "us");
    let schema = xtask::site::schema::schema();
    for (key, value) in object.as_object().context("no object")? {
        let said = &schema["properties"][key];
        ensure!(said.is_object(), "the schema doesn't know {key}");
        let words = said["enum"].as_array();
        ensure!(words.is_none_or(|words| words.contains(value)), "{key}: {value} isn't in the schema");
    }
    planner.click("[data-action=reset]")?;
    planner.expect(&Scenario::default())?;
    let choose = |name: &str, content: &str| -> Result<()> {
        planner.browser.js(&format!(
            "const chooser = document.querySelector('.rl-menu input[type=file]');
             const transfer = new DataTransfer();
             transfer.items.add(new File([{}], {}));
             chooser.files = transfer.files;
             chooser.dispatchEvent(new Event('change'));",
            json!(content),
            json!(name)
        ))
    };
    // A link to the plan shown, once the page has heard of it.
    planner.browser.js::<()>(&format!(
        "await new Promise((done) => setTimeout(done, 400)); history.replaceState(null, '', '#{}')",
        link::write(&Scenario::default())
    ))?;
    choose("plan.json", &file)?;
    let status = format!("{}.textContent", element(".rl-menu-status"));
    planner.browser.until(&format!("{status}.includes('plan.json is open')"))?;
    planner.expect(&scenario)?;
    // The link in the address was another plan's.
    planner.browser.until("location.hash === ''")?;
    choose("list.json", "[1, 2]")?;
    planner.browser.until(&format!("{status}.includes('list.json: ')"))?;
    choose("wide.json", &serde_json::to_string(&json!({ "version": 1, "row_width": 900 }))?)?;
    planner.browser.until(&format!("{status}.includes('Row width')"))?;
    planner.expect(&scenario)?;
    // A bare scenario, dropped on the drawings.
    let other = Scenario::default().with(|s| s.block.headland = feet(40.0));
    planner.browser.js::<()>(&format!(
        "const transfer = new DataTransfer();
         transfer.items.add(new File([{}], 'dropped.json'));
         for (const name of ['dragover', 'drop'])
           document.querySelector('.rl-drawings').dispatchEvent(new DragEvent(name, {{ dataTransfer: transfer, bubbles: true, cancelable: true }}));",
        json!(serde_json::to_string(&other.to_entries())?)
    ))?;
    planner.browser.until(&format!("{status}.includes('dropped.json is open')"))?;
    planner.expect(&other)?;
    Ok(())
}

fn drawings_and_tables_are_those_of_the_engine(visit: &Visit) -> Result<()> {
    let scenario = Scenario::default().with(|s| s.block.row_width = feet(13.0));
    let plan = planting::plan(&scenario).map_err(|problems| anyhow::anyhow!("{problems:?}"))?;
    let planner = open_menu(visit, &scenario)?;
    visit.browser.screenshot("share-menu")?;
    planner.browser.js::<()>(CATCH)?;
    let tables = [
        ("figures", export::figures(&plan, Units::Us)),
        ("orders", export::orders(&plan, Units::Us)),
        ("stations", export::stations(&plan)),
    ];
    for (name, table) in tables {
        planner.click(&format!("[data-action=csv-{name}]"))?;
        planner.browser.until(&format!("saved['rowlight-{name}.csv']"))?;
        // `text()` takes the mark of UTF-8 away.
        let (mark, text): (Vec<u8>, String) = planner.browser.js(&format!(
            "const file = saved['rowlight-{name}.csv']; return [[...new Uint8Array(await file.slice(0, 3).arrayBuffer())], await file.text()]"
        ))?;
        ensure!(mark == [0xef, 0xbb, 0xbf], "{name}: no mark");
        ensure!(text.trim_start_matches('\u{feff}') == table, "{name} is another table");
    }
    planner.click("[data-action=geojson]")?;
    planner.browser.until(&format!("{}.textContent.includes('corner lies')", element(".rl-menu-status")))?;
    planner.browser.js::<()>(&format!(
        "{}.value = '42'; {}.value = '-77'",
        element("[data-key=corner-latitude]"),
        element("[data-key=corner-longitude]")
    ))?;
    planner.click("[data-action=geojson]")?;
    planner.browser.until("saved['rowlight-stations.geojson']")?;
    let map: String = planner.browser.js("return await saved['rowlight-stations.geojson'].text()")?;
    let corner = export::GeoPoint { longitude: degrees(-77.0), latitude: degrees(42.0) };
    ensure!(Ok(map) == export::geojson(&plan, Some(corner)), "another map");
    planner.browser.js::<()>(&format!("{}.value = '89'", element("[data-key=corner-latitude]")))?;
    planner.click("[data-action=geojson]")?;
    planner.browser.until(&format!("{}.textContent.includes('85')", element(".rl-menu-status")))?;
    for view in CHAPTERS[0].views {
        planner.click(&format!("[data-action=svg-{view}]"))?;
        planner.browser.until(&format!("saved['rowlight-{view}.svg']"))?;
        let svg: String = planner.browser.js(&format!("return await saved['rowlight-{view}.svg'].text()"))?;
        ensure!(
            svg.starts_with("<svg xmlns") && svg.contains(&format!("sheet-{view}")),
            "{view}: no drawing"
        );
        planner.click(&format!("[data-action=png-{view}]"))?;
        planner.browser.until(&format!("saved['rowlight-{view}.png']"))?;
        let (width, height, inks): (u32, u32, usize) = planner.browser.js(&format!(
            "const picture = await createImageBitmap(saved['rowlight-{view}.png']);
             const canvas = new OffscreenCanvas(picture.width, picture.height);
             const pen = canvas.getContext('2d');
             pen.drawImage(picture, 0, 0);
             const pixels = new Uint32Array(pen.getImageData(0, 0, picture.width, picture.height).data.buffer);
             return [picture.width, picture.height, new Set(pixels).size]"
        ))?;
        ensure!((width, height) == (2400, 1560) && inks > 20, "{view}: {width} × {height}, {inks} inks");
    }
    Ok(())
}

pub(crate) fn the_menu_works_by_keyboard(visit: &Visit) -> Result<()> {
    let planner = Planner::open(visit)?;
    planner.browser.until(&element(MENU))?;
    planner.focus(MENU)?;
    planner.browser.key("Enter")?;
    ensure!(planner.sees(".rl-menu-box")?);
    planner.browser.key("Tab")?;
    ensure!(planner.browser.js::<String>("return document.activeElement.dataset.action")? == "share-link");
    planner.browser.key("Enter")?;
    planner.browser.until("location.hash.length > 1")?;
    planner.browser.key("Escape")?;
    ensure!(!planner.sees(".rl-menu-box")?);
    ensure!(planner.browser.js::<String>("return document.activeElement.dataset.action")? == "share-menu");
    Ok(())
}

/// Holds a part of the page, a selector in quotes or `document`, against the rules of WCAG 2.2 AA that a program can check.
pub(crate) fn barriers(visit: &Visit, page: &str, part: &str) -> Result<()> {
    bring_axe(visit)?;
    let faults: Vec<Value> = visit.browser.js(&format!(
        "const {{ violations }} = await axe.run({part}, {{ runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'] }});
         return violations.map(({{ id, nodes }}) => [id, nodes.slice(0, 4).map((node) => [node.target, node.failureSummary])]);",
    ))?;
    ensure!(faults.is_empty(), "{page}: {faults:#?}");
    Ok(())
}

/// Brings axe into the page, past the page's policy, as a debugger may.
pub(crate) fn bring_axe(visit: &Visit) -> Result<()> {
    let axe = std::fs::read_to_string(xtask::npm::tool(xtask::npm::AXE)?.join("axe.min.js"))?;
    visit.browser.command("Runtime.evaluate", json!({ "expression": axe }))?;
    Ok(())
}

fn no_barriers_in_any_chapter(visit: &Visit) -> Result<()> {
    let found = |page: &str| barriers(visit, page, "document");
    let planner = Planner::open(visit)?;
    planner.browser.until(&element(MENU))?;
    for chapter in CHAPTERS {
        planner.click(&format!("[data-action=chapter-{}]", chapter.key))?;
        found(chapter.key)?;
    }
    planner.click(MENU)?;
    // The menu alone: what it lies over is there again when it is closed.
    barriers(visit, "the open menu", "'.rl-menu'")?;
    for page in ["embedding.html", "builder.html"] {
        visit.open(page)?;
        if page == "builder.html" {
            visit
                .browser
                .until("document.getElementById('preview')?.shadowRoot?.querySelector('.rl-menu')")?;
        }
        found(page).context("a page beside the planner")?;
    }
    Ok(())
}
