//! A page of somebody else's on an ordinary web server: nginx as Debian has it, under the strict policy, the planner's folder in a
//! folder of theirs, and nothing of this repository around it.

use std::fs;
use std::path::Path;

use anyhow::{Context, Result, ensure};
use planting::{Scenario, TrainingSystem, feet, link};
use xtask::nginx::Nginx;

use crate::embed::{expect_plan, until_started, within};
use crate::harness::{Case, Visit, cases};
use crate::planner::{near, unfold_within};

pub(crate) const CASES: &[Case] = cases![two_planners_on_an_ordinary_host];

/// Where the host keeps the page; no request may leave it.
const FOLDER: &str = "/extension/apples/";

pub(crate) fn two_planners_on_an_ordinary_host(visit: &Visit) -> Result<()> {
    let inline = Scenario::default().with(|s| s.block.row_width = feet(14.0));
    let from_file = Scenario::for_system(TrainingSystem::VTrellis);
    let linked = Scenario::default().with(|s| s.block.in_row_spacing = feet(2.5));
    let host = Nginx::start(|pages| {
        let folder = pages.join(FOLDER.trim_matches('/'));
        copy(&visit.site, &folder.join("planner"))?;
        fs::write(folder.join("v-trellis.json"), serde_json::to_vec(&from_file.to_entries())?)?;
        fs::write(folder.join("page.css"), "rowlight-plan { margin-block: 24px }")?;
        let page = format!(
            "<!doctype html>
<html lang=en>
<meta charset=utf-8>
<title>Two plantings</title>
<link rel=icon href=data:,>
<link rel=stylesheet href=page.css>
<script type=module src=planner/rowlight-plan.js></script>
<h1>Two plantings</h1>
<rowlight-plan id=inline scenario='{}'></rowlight-plan>
<rowlight-plan id=file scenario=v-trellis.json units=metric></rowlight-plan>
<rowlight-plan id=linked scenario={}></rowlight-plan>
",
            serde_json::to_string(&inline.to_entries())?,
            link::write(&linked)
        );
        Ok(fs::write(folder.join("page.html"), page)?)
    })?;
    let home = format!("{}{}", host.url(), FOLDER.trim_start_matches('/'));
    visit.browser.open(&format!("{home}page.html"))?;
    for (id, scenario) in [("inline", &inline), ("file", &from_file), ("linked", &linked)] {
        visit.browser.js::<()>(&format!("document.getElementById('{id}').scrollIntoView()"))?;
        until_started(visit, id)?;
        let planner = format!("document.getElementById('{id}')");
        expect_plan(&visit.browser.js(&format!("return await {planner}.getPlan()"))?, scenario)
            .context(id)?;
        let shown: String = visit.browser.js(&format!(
            "{} return {}.dataset.value",
            unfold_within(id),
            within(id, "[data-figure=trees_per_acre]")
        ))?;
        let plan = planting::plan(scenario).map_err(|problems| anyhow::anyhow!("{problems:?}"))?;
        let meant = plan.figure("trees_per_acre").and_then(|figure| figure.value).context("no figure")?;
        ensure!(near(shown.parse()?, meant, 1e-11), "{id} shows {shown}, {meant} is right");
        visit.browser.until(&within(id, ".rl-menu"))?;
        visit.browser.until(&within(id, "[data-whole]"))?;
    }
    visit.browser.screenshot("hosted")?;
    visit.browser.expect_quiet_console()?;
    let requests = host.requests()?;
    let wasm: Vec<_> = requests.iter().filter(|request| request.address.ends_with(".wasm")).collect();
    // Each of its files once for both planners: the first, and those that were asked for. Whether the rest has been fetched ahead
    // hangs on how long the page has stood still.
    let mut names: Vec<_> = wasm.iter().filter_map(|request| request.address.rsplit('/').next()).collect();
    names.sort_unstable();
    let count = names.len();
    names.dedup();
    ensure!(
        names.len() == count
            && names.contains(&"rowlight_bg.wasm")
            && names.contains(&"rowlight-files_bg.wasm"),
        "of the program were fetched: {names:?}"
    );
    ensure!(wasm.iter().all(|request| request.content_type == "application/wasm"), "{wasm:?}");
    for request in &requests {
        ensure!(request.address.starts_with(FOLDER) && request.status == 200, "{request:?}");
    }
    // Nor from anywhere else.
    let asked: Vec<String> =
        visit.browser.js("return performance.getEntriesByType('resource').map((entry) => entry.name)")?;
    let at_home = |address: &String| address.starts_with(&home) || address.starts_with("data:");
    ensure!(asked.len() > 5 && asked.iter().all(at_home), "{asked:?}");
    Ok(())
}

fn copy(from: &Path, to: &Path) -> Result<()> {
    fs::create_dir_all(to)?;
    for entry in fs::read_dir(from)? {
        let entry = entry?;
        fs::copy(entry.path(), to.join(entry.file_name()))?;
    }
    Ok(())
}
