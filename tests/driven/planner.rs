//! The planner as a test reads it: what it has saved, what its figures, fields and drawings show, and what the engine gives for
//! the same scenario.

use anyhow::{Context, Result, ensure};
use drafting::{Units, measure, wording};
use planting::{Entries, Kind, Quantity, REGISTRY, Scenario};
use serde_json::{Value, json};
use xtask::browser::Browser;
use xtask::plan_command::{self, Shown};

use crate::harness::Visit;
use crate::loading::STARTED;

/// Where the page keeps what it saves, and where it moves what it can't read.
pub(crate) const PLACE: &str = "rowlight.v1";
pub(crate) const ASIDE: &str = "rowlight.v1.broken";

/// The same sum in the browser and here may differ in its last digits: sine and exponential are not the same code.
const SAME: f64 = 1e-11;

/// Opens whatever is folded in `ROOT`, the page or a planner's shadow root. Rows are made a moment after they are unfolded, and words
/// behind them may have to come.
const UNFOLD: &str = "
    const root = ROOT;
    const frame = async () => {
      await new Promise((done) => requestAnimationFrame(done));
      await new Promise((done) => setTimeout(done));
    };
    const all = (query) => [...root.querySelectorAll(query)];
    const isAwaited = (element) => element.textContent === '\u{2026}';
    const isThere = () =>
      all('details:not([open]), .rl-group-body:empty, .rl-figure-list:empty').length === 0 && !all('.rl-quiet').some(isAwaited);
    for (let frames = 0; !isThere(); frames++) {
      if (frames > 100) throw new Error('what was unfolded stays empty');
      for (const fold of all('details:not([open])')) fold.open = true;
      await frame();
    }
";

/// A script that opens whatever is folded in the planner with this id.
pub(crate) fn unfold_within(id: &str) -> String {
    UNFOLD.replace("ROOT", &format!("document.getElementById('{id}').shadowRoot"))
}

fn unfold_page() -> String {
    UNFOLD.replace("ROOT", "document")
}

/// Lets a waiting edit take effect and be drawn; the page saves at once when it is told that it goes away.
const READ: &str = "
    await frame();
    dispatchEvent(new Event('pagehide'));
    const sum = (text) => {
      let sum = 0;
      for (let at = 0; at < text.length; at++) sum = (sum * 31 + text.charCodeAt(at)) | 0;
      return sum;
    };
    const spot = (element) => element.dataset.key + (element.dataset.item ? `[${element.dataset.item}]` : '');
    return [
      document.querySelector('.rl-page').dataset.chapter,
      localStorage.getItem('rowlight.v1') ?? '',
      all('[data-figure]').map((element) => [element.dataset.figure, element.dataset.value ?? '', element.textContent.trim()]),
      all('[data-error-for]').filter((element) => !element.hidden).map((element) => [element.dataset.errorFor, element.textContent]),
      all('.rl-board').map((board) => sum(board.innerHTML)),
      all('[data-role=field]').map((field) => [spot(field), field.value]),
      all('[data-role=slider]').map((slider) => [spot(slider), slider.ariaValueText]),
    ];";

/// What the page shows and has saved at one moment.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Reading {
    /// Key of the chapter turned to.
    pub(crate) chapter: String,
    /// The file as saved.
    pub(crate) saved: String,
    /// Key, SI value and text of every figure, those of the strip first.
    pub(crate) figures: Vec<(String, String, String)>,
    /// Field and sentence of every fault shown.
    pub(crate) faults: Vec<(String, String)>,
    /// A sum over each drawing; another drawing has another.
    pub(crate) drawings: Vec<i32>,
    /// Field and content of every number field and menu.
    pub(crate) fields: Vec<(String, String)>,
    /// Field and spoken value of every slider.
    pub(crate) sliders: Vec<(String, String)>,
}

impl Reading {
    /// The saved scenario.
    pub(crate) fn scenario(&self) -> Result<Scenario> {
        let file: Value = serde_json::from_str(&self.saved).context("what is saved is no JSON")?;
        scenario_of(&file)
    }

    /// The saved units.
    pub(crate) fn units(&self) -> Result<Units> {
        let file: Value = serde_json::from_str(&self.saved).context("what is saved is no JSON")?;
        file["units"].as_str().and_then(Units::from_key).context("no units are saved")
    }

    /// The sentence under a field.
    pub(crate) fn fault(&self, field: &str) -> Option<&str> {
        self.faults.iter().find(|(name, _)| name == field).map(|(_, sentence)| sentence.as_str())
    }

    /// What a field shows.
    pub(crate) fn field(&self, field: &str) -> Option<&str> {
        self.fields.iter().find(|(name, _)| name == field).map(|(_, text)| text.as_str())
    }

    /// Every figure, field and slider is what the engine gives for the scenario asked for, the one that is saved.
    pub(crate) fn expect(&self, asked: &Scenario) -> Result<()> {
        let saved = self.scenario()?;
        ensure!(self.faults.is_empty(), "faults are shown: {:?}", self.faults);
        for parameter in REGISTRY {
            let same = match parameter.kind {
                Kind::Number(number) => near((number.get)(&saved), (number.get)(asked), 1e-12),
                Kind::Choice(list) => (list.get)(&saved) == (list.get)(asked),
                Kind::Lengths(lengths) => {
                    let (saved, asked) = ((lengths.get)(&saved), (lengths.get)(asked));
                    saved.len() == asked.len()
                        && saved.iter().zip(asked).all(|(saved, asked)| near(saved.value, asked.value, 1e-12))
                }
            };
            ensure!(same, "{}: asked for {asked:?}, the page has {saved:?}", parameter.key);
        }
        self.expect_fields(&saved)?;
        self.expect_figures(&saved)
    }

    fn expect_fields(&self, scenario: &Scenario) -> Result<()> {
        let units = self.units()?;
        for (field, quantity, value) in numbers(scenario) {
            let shown = self.field(&field).with_context(|| format!("there is no field {field}"))?;
            let meant = measure::editable(value, quantity, units);
            ensure!(shown == meant, "the field {field} shows {shown}, not {meant}");
            let spoken = self.sliders.iter().find(|(name, _)| *name == field);
            let meant = measure::write(value, quantity, units);
            let (_, spoken) = spoken.with_context(|| format!("there is no slider {field}"))?;
            ensure!(*spoken == meant, "the slider {field} says {spoken}, not {meant}");
        }
        for parameter in REGISTRY {
            let Kind::Choice(list) = parameter.kind else { continue };
            let shown = self.field(parameter.key);
            ensure!(shown == Some((list.get)(scenario)), "the menu {} shows {shown:?}", parameter.key);
        }
        Ok(())
    }

    /// Held against the library and against what `cargo xtask plan` prints for the saved file.
    fn expect_figures(&self, scenario: &Scenario) -> Result<()> {
        let units = self.units()?;
        let plan =
            planting::plan(scenario).map_err(|problems| anyhow::anyhow!("what is saved has {problems:?}"))?;
        let file = serde_json::to_string(&scenario.to_entries())?;
        let (printed, _) = plan_command::answer(&file, Shown::Report)?;
        let printed: Value = serde_json::from_str(&printed)?;
        for (key, value, text) in &self.figures {
            let figure = plan.figure(key).with_context(|| format!("the engine has no figure {key}"))?;
            let value: Option<f64> = (!value.is_empty()).then(|| value.parse()).transpose()?;
            let one = match figure.quantity {
                Quantity::PerAcre | Quantity::PerHectare => measure::unit(figure.quantity, units).one,
                _ => 1.0,
            };
            let command = printed["figures"][key]["value"].as_f64();
            let same = match (value, figure.value, command) {
                (None, None, None) => true,
                (Some(page), Some(engine), Some(command)) => {
                    near(page, engine, SAME) && near(page, command * one, SAME)
                }
                _ => false,
            };
            ensure!(
                same,
                "{key}: the page has {value:?}, the engine {:?}, the command {command:?}",
                figure.value
            );
            let meant = wording::value(figure, units);
            // The strip says the land in the words above the number.
            let short = meant.trim_end_matches("/acre").trim_end_matches("/ha");
            ensure!(*text == meant || text == short, "{key} reads {text}, not {meant}");
        }
        // The chapter of the ground shows its own figures; another shows its own beside them.
        let of_room = plan.room(&self.chapter).map(|room| room.figures()).unwrap_or_default();
        let figures = plan.ground.figures_with(of_room);
        for figure in &figures {
            let shown = self.figures.iter().any(|(key, ..)| key == figure.key);
            ensure!(shown, "{} is not on the page", figure.key);
        }
        for (key, ..) in &self.figures {
            ensure!(figures.iter().any(|figure| figure.key == key), "{key} is no figure of {}", self.chapter);
        }
        Ok(())
    }
}

/// Whether two values are one but for rounding.
pub(crate) fn near(one: f64, other: f64, hair: f64) -> bool {
    (one - other).abs() <= hair * one.abs().max(other.abs()).max(1.0)
}

/// Every number of a scenario: its field, what it is, its SI value.
pub(crate) fn numbers(scenario: &Scenario) -> Vec<(String, Quantity, f64)> {
    let mut all = Vec::new();
    for parameter in REGISTRY {
        match parameter.kind {
            Kind::Number(number) => {
                all.push((parameter.key.to_owned(), number.quantity, (number.get)(scenario)))
            }
            Kind::Choice(_) => {}
            Kind::Lengths(lengths) => {
                for (place, item) in (lengths.get)(scenario).iter().enumerate() {
                    all.push((format!("{}[{place}]", parameter.key), Quantity::Length, item.value));
                }
            }
        }
    }
    all
}

/// The scenario of a file's object.
pub(crate) fn scenario_of(entries: &Value) -> Result<Scenario> {
    let entries: Entries = serde_json::from_value(entries.clone())?;
    Scenario::from_entries(&entries).map_err(|problems| anyhow::anyhow!("what is saved has {problems:?}"))
}

/// A file as the page saved it at first: such files are still opened.
pub(crate) fn file(scenario: &Scenario, units: Units) -> Result<String> {
    let entries = serde_json::to_value(scenario.to_entries())?;
    Ok(json!({ "scenario": entries, "units": units.key(), "paper": "letter" }).to_string())
}

/// The planner, open in the browser.
pub(crate) struct Planner<'a> {
    pub(crate) browser: &'a Browser,
}

impl<'a> Planner<'a> {
    /// Opens it as it stands when it is opened for the first time.
    pub(crate) fn open(visit: &'a Visit) -> Result<Self> {
        visit.open("")?;
        let planner = Self { browser: &visit.browser };
        planner.unfold()?;
        Ok(planner)
    }

    /// Opens it on what a browser may have kept.
    pub(crate) fn open_on(visit: &'a Visit, kept: &str) -> Result<Self> {
        // From a page of this origin that isn't the planner's: the planner's own saves its plan when it is left.
        visit.open("embedding.html")?;
        visit.browser.js::<()>(&format!("localStorage.setItem('{PLACE}', {})", Value::from(kept)))?;
        Self::open(visit)
    }

    /// Opens it on a scenario.
    pub(crate) fn open_with(visit: &'a Visit, scenario: &Scenario, units: Units) -> Result<Self> {
        Self::open_on(visit, &file(scenario, units)?)
    }

    /// Loads the page again, as a reader does.
    pub(crate) fn reload(&self) -> Result<()> {
        self.browser.js::<()>("window.isOld = true; location.reload()")?;
        self.browser.until("!window.isOld")?;
        self.unfold()
    }

    /// Waits until the planner stands, and opens whatever is folded.
    pub(crate) fn unfold(&self) -> Result<()> {
        self.browser.until(STARTED)?;
        self.browser.js(&unfold_page())
    }

    /// Turns to a chapter, waits until all of it is there, and opens whatever is folded.
    pub(crate) fn turn_to(&self, chapter: &str) -> Result<()> {
        self.click(&format!("[data-action=chapter-{chapter}]"))?;
        let turned = format!("{}.dataset.chapter === '{chapter}'", element(".rl-page"));
        self.browser.until(&format!("{turned} && {}", element("[data-whole]")))?;
        self.browser.js(&unfold_page())
    }

    /// Reads the page once everything has taken effect.
    pub(crate) fn read(&self) -> Result<Reading> {
        let (chapter, saved, figures, faults, drawings, fields, sliders) =
            self.browser.js(&format!("{}{READ}", unfold_page()))?;
        Ok(Reading { chapter, saved, figures, faults, drawings, fields, sliders })
    }

    /// Reads the page and holds it against the engine, for the scenario asked for.
    pub(crate) fn expect(&self, asked: &Scenario) -> Result<Reading> {
        let reading = self.read()?;
        reading.expect(asked)?;
        Ok(reading)
    }

    /// Clicks an element.
    pub(crate) fn click(&self, selector: &str) -> Result<()> {
        self.browser.click(self.browser.middle(&element(selector))?)
    }

    /// Puts the focus on an element.
    pub(crate) fn focus(&self, selector: &str) -> Result<()> {
        self.browser.js(&format!("{}.focus()", element(selector)))
    }

    /// Replaces what stands in a field, as a reader who selects it and types, and leaves it with Enter.
    pub(crate) fn enter(&self, field: &str, text: &str) -> Result<()> {
        let field = element(&control(field, "field"));
        self.browser.js::<()>(&format!("const field = {field}; field.focus(); field.select();"))?;
        if text.is_empty() {
            self.browser.key("Delete")?
        } else {
            self.browser.write(text)?
        }
        self.browser.key("Enter")
    }

    /// Whether something is there and can be seen.
    pub(crate) fn sees(&self, selector: &str) -> Result<bool> {
        self.browser.js(&format!("return Boolean({}?.checkVisibility())", element(selector)))
    }
}

/// The JavaScript expression of an element.
pub(crate) fn element(selector: &str) -> String {
    format!("document.querySelector({})", Value::from(selector))
}

/// The selector of a field or slider.
pub(crate) fn control(field: &str, role: &str) -> String {
    let (key, item) = field.strip_suffix(']').and_then(|field| field.split_once('[')).unwrap_or((field, ""));
    let item = if item.is_empty() { String::new() } else { format!("[data-item='{item}']") };
    format!("[data-key={key}][data-role={role}]{item}")
}
