//! The files a module is cut into fit together, whichever of them comes first.
//!
//! The cutting tool is young: its users tell of calls that lead nowhere where a module has many cuts. So every file is fetched alone,
//! twice at once, and in every order (of many files, in a sample of orders), and what is behind its door is used.

use anyhow::{Context, Result, ensure};
use drafting::View;
use planting::manifest::{self, CHAPTERS};
use rowlight_tests::orders::orders;
use serde_json::{Map, Value, json};

use crate::harness::{Case, Visit, cases, imported};
use crate::loading::STARTED;

pub(crate) const CASES: &[Case] = cases![every_room_alone_and_twice, every_room_in_every_order];

/// Uses what is behind the doors in `KEYS`; gives what came of it, by key.
const USED: &str = r#"
const module = await MODULE;
const page = document.getElementById('rowlight').page;
const find = (what) => document.querySelector(what);
const until = async (there) => {
  for (let frame = 0; frame < 300 && !there(); frame++) await new Promise(requestAnimationFrame);
  return there();
};
const views = CHAPTER_VIEWS;
const drawn = (view) => find(`[data-view=${view}] .rl-board`)?.innerHTML.length > 1000;
const turn = async (chapter) => {
  find(`[data-action=chapter-${chapter}]`).click();
  const isTurned = () => find(`.rl-page[data-chapter=${chapter}][data-whole]`) !== null;
  await until(() => isTurned() && views[chapter].every(drawn));
  return views[chapter].map(drawn);
};
const use = {
  print: async () => {
    window.print = () => {};
    find('[data-action=print]').click();
    const drawn = document.querySelectorAll('#rowlight-print svg').length;
    dispatchEvent(new Event('afterprint'));
    return [drawn, document.querySelectorAll('#rowlight-print svg').length];
  },
  files: async () => [
    ...DRAWINGS.map((view) => page.drawing(view).length),
    ...['figures', 'orders', 'stations'].map((table) => page.table(table).length),
    page.map(9, 47).length,
  ],
  words: async () => {
    const card = find('[data-card=rootstock]');
    card.open = true;
    await until(() => card.querySelector('.rl-term'));
    const term = card.querySelector('.rl-term');
    term.click();
    await until(() => find('.rl-word p')?.textContent.length > 20);
    const said = find('.rl-word p')?.textContent;
    term.dispatchEvent(new FocusEvent('blur'));
    card.open = false;
    return said;
  },
};
const used = {};
for (const key of KEYS) {
  const come = await Promise.all(Array.from({ length: TIMES }, () => module.room(key)));
  if (!come.every(Boolean)) throw new Error(`${key} doesn't come`);
  used[key] = await (use[key] ?? (() => turn(key)))();
  // Every use begins in the chapter of the ground.
  await turn('GROUND');
}
return used;
"#;

fn used(visit: &Visit, keys: &[&str], times: u8) -> Result<Value> {
    visit.open("")?;
    visit.browser.until(STARTED)?;
    let views: Map<String, Value> =
        CHAPTERS.iter().map(|chapter| (chapter.key.to_owned(), json!(chapter.views))).collect();
    let drawings: Vec<&str> = View::EVERY.iter().map(|view| view.key()).collect();
    let script = USED
        .replace("CHAPTER_VIEWS", &serde_json::to_string(&views)?)
        .replace("DRAWINGS", &serde_json::to_string(&drawings)?)
        .replace("GROUND", CHAPTERS[0].key)
        .replace("MODULE", &imported("./rowlight.js"))
        .replace("KEYS", &serde_json::to_string(keys)?)
        .replace("TIMES", &times.to_string());
    visit.browser.js(&script).with_context(|| format!("in the order {keys:?}"))
}

pub(crate) fn every_room_alone_and_twice(visit: &Visit) -> Result<()> {
    let keys: Vec<&str> = manifest::files().collect();
    let together = used(visit, &keys, 1)?;
    for chapter in CHAPTERS.iter().filter(|chapter| chapter.file.is_some()) {
        let is_drawn = together[chapter.key].as_array().is_some_and(|drawn| {
            drawn.len() == chapter.views.len() && drawn.iter().all(|one| *one == json!(true))
        });
        ensure!(is_drawn, "{}: {together}", chapter.key);
    }
    ensure!(together["words"].as_str().is_some_and(|said| said.len() > 20), "{together}");
    ensure!(together["print"][0].as_u64() > Some(2) && together["print"][1] == 0, "{together}");
    for key in keys {
        for times in [1, 2] {
            let alone = used(visit, &[key], times)?;
            ensure!(alone[key] == together[key], "{key}, {times} at once: {alone}, with all: {together}");
        }
    }
    Ok(())
}

pub(crate) fn every_room_in_every_order(visit: &Visit) -> Result<()> {
    let keys: Vec<&str> = manifest::files().collect();
    let first = used(visit, &keys, 1)?;
    for order in orders(&keys) {
        let used = used(visit, &order, 1)?;
        ensure!(used == first, "{order:?}: {used}, {keys:?}: {first}");
    }
    Ok(())
}
