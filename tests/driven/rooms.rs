//! The files a module is cut into fit together, whichever of them comes first.
//!
//! The cutting tool is young: its users tell of calls that lead nowhere where a module has many cuts. So every file is fetched alone,
//! twice at once, and in every order, and what is behind its door is used.

use anyhow::{Context, Result, ensure};
use planting::manifest;
use serde_json::Value;

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
const use = {
  light: async () => {
    find('[data-action=chapter-light]').click();
    await until(() => find('[data-view=years] .layer-furniture')?.childElementCount && find('[data-view=pair] .layer-crowns path'));
    const drawn = ['section', 'pair', 'years'].map((view) => find(`[data-view=${view}] .rl-board`)?.innerHTML.length > 1000);
    find('[data-action=chapter-layout]').click();
    await until(() => find('[data-view=elevation] .layer-trees path'));
    return drawn;
  },
  print: async () => {
    window.print = () => {};
    find('[data-action=print]').click();
    const drawn = document.querySelectorAll('#rowlight-print svg').length;
    dispatchEvent(new Event('afterprint'));
    return [drawn, document.querySelectorAll('#rowlight-print svg').length];
  },
  files: async () => [
    ...['plan', 'section', 'elevation', 'pair', 'years'].map((view) => page.drawing(view).length),
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
  // A room without a use here is only fetched.
  used[key] = await use[key]?.();
}
return used;
"#;

fn used(visit: &Visit, keys: &[&str], times: u8) -> Result<Value> {
    visit.open("")?;
    visit.browser.until(STARTED)?;
    let script = USED
        .replace("MODULE", &imported("./rowlight.js"))
        .replace("KEYS", &serde_json::to_string(keys)?)
        .replace("TIMES", &times.to_string());
    visit.browser.js(&script).with_context(|| format!("in the order {keys:?}"))
}

pub(crate) fn every_room_alone_and_twice(visit: &Visit) -> Result<()> {
    let keys: Vec<&str> = manifest::files().collect();
    let together = used(visit, &keys, 1)?;
    ensure!(together["light"] == serde_json::json!([true, true, true]), "{together}");
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

/// All orders of up to five; of more, those that differ in the first two.
fn orders<'a>(keys: &[&'a str]) -> Vec<Vec<&'a str>> {
    let told_apart = if keys.len() <= 5 { keys.len() } else { 2 };
    let mut begun: Vec<Vec<&str>> = vec![Vec::new()];
    for _ in 0..told_apart {
        let longer = |order: Vec<&'a str>| {
            let rest: Vec<&str> = keys.iter().copied().filter(|key| !order.contains(key)).collect();
            rest.into_iter().map(move |key| [&order[..], &[key]].concat()).collect::<Vec<_>>()
        };
        begun = begun.into_iter().flat_map(longer).collect();
    }
    let whole = |order: Vec<&'a str>| {
        let rest: Vec<&str> = keys.iter().copied().filter(|key| !order.contains(key)).collect();
        [order, rest].concat()
    };
    begun.into_iter().map(whole).collect()
}
