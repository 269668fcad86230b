//! The state of the page: one scenario, the last plan that worked, the reader's units and paper.
//!
//! Everything flows one way: an edit changes the scenario, the scenario makes the plan, and the
//! drawings and figures read the plan. Edits wait for the next frame, the latest wins; a scenario
//! with fields at odds is kept as typed while everything drawn stays on the last good plan.

use crate::chapter::Chapter;
use crate::dial::{Dial, Spot};
use crate::glossary::Term;
use crate::history::History;
use crate::later::{self, Later};
use crate::saved::{Broken, Reader};
use crate::signal::{Memo, RwSignal, StoredValue};
use drafting::packet::Paper;
use drafting::{Daylight, Units};
use leptos::leptos_dom::helpers::{
    AnimationFrameRequestHandle, TimeoutHandle, request_animation_frame_with_handle, set_timeout_with_handle,
};
use leptos::prelude::*;
use planting::light::{Memory, Season, YearLight};
use planting::{Plan, Problem, Scenario, plan, plan_with};
use std::ops::Deref;
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::Duration;
use web_sys::HtmlElement;

/// How long a plan must stand still before the light of every year is summed.
const YEARS_AFTER: Duration = Duration::from_millis(120);

/// Something large held by many readers, equal to itself only: comparing a plan tree by tree would
/// cost more than drawing it again.
pub(crate) struct Shared<T>(Arc<T>);

impl<T> Shared<T> {
    pub(crate) fn new(inner: T) -> Self {
        Shared(Arc::new(inner))
    }
}

impl<T> Clone for Shared<T> {
    fn clone(&self) -> Self {
        Shared(Arc::clone(&self.0))
    }
}

impl<T> PartialEq for Shared<T> {
    fn eq(&self, other: &Self) -> bool {
        Arc::ptr_eq(&self.0, &other.0)
    }
}

impl<T> Deref for Shared<T> {
    type Target = T;
    fn deref(&self) -> &T {
        &self.0
    }
}

/// What the scenario as it stands leads to.
#[derive(Clone, PartialEq)]
struct Outcome {
    plan: Shared<Plan>,
    problems: Vec<Problem>,
}

/// A word of the trade being explained, and the button it was asked at.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Word {
    pub(crate) term: &'static Term,
    pub(crate) left: f64,
    pub(crate) top: f64,
    pub(crate) bottom: f64,
}

/// What of the planner its host shows.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Face {
    /// The chapters that can be turned to.
    pub(crate) chapters: Vec<Chapter>,
    pub(crate) hands: Hands,
}

/// What of a plan a reader may change.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Hands {
    /// Every input.
    On,
    /// The inputs of these keys, and the year.
    At(Vec<&'static str>),
    /// The year alone: the plan is looked at.
    Off,
}

impl Hands {
    pub(crate) fn may_move(&self, key: &str) -> bool {
        match self {
            Hands::On => true,
            Hands::At(keys) => keys.contains(&key),
            Hands::Off => false,
        }
    }
}

/// A plan or a setting that could not be taken, and where it came from.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Refusal {
    /// Whether it had been saved in this browser.
    pub(crate) saved: bool,
    /// What is wrong with it.
    pub(crate) broken: Broken,
}

/// The page's state; a handful of handles, copied freely.
#[derive(Clone, Copy)]
pub(crate) struct Desk {
    /// Tells one mounted page from another in element ids.
    pub(crate) number: usize,
    /// What has been set, fields at odds included.
    pub(crate) scenario: RwSignal<Scenario>,
    /// The last plan that worked.
    pub(crate) plan: Memo<Shared<Plan>>,
    /// What keeps the scenario from being a plan.
    pub(crate) problems: Memo<Vec<Problem>>,
    /// The reader's units.
    pub(crate) units: RwSignal<Units>,
    /// The paper to print on.
    pub(crate) paper: RwSignal<Paper>,
    /// The chapter turned to.
    pub(crate) chapter: RwSignal<Chapter>,
    /// The light its drawings show, in the chapter of light.
    pub(crate) daylight: RwSignal<Daylight>,
    /// The light of every year; waits until the plan stands still.
    pub(crate) years: RwSignal<Shared<Vec<YearLight>>>,
    memory: StoredValue<Memory>,
    /// Whether what comes later has come.
    arrived: RwSignal<bool>,
    /// Whether there is a step back and a step forward.
    pub(crate) reach: RwSignal<(bool, bool)>,
    /// Whether the page is this planner's own; else it is a guest in somebody's page.
    pub(crate) alone: bool,
    /// What its host shows of it.
    pub(crate) face: RwSignal<Face>,
    /// What could not be taken; stays until it is put away.
    pub(crate) refusal: RwSignal<Option<Refusal>>,
    /// The plan "Start again" leads to.
    pub(crate) home: RwSignal<Scenario>,
    /// The word of the trade being explained, and where.
    pub(crate) word: RwSignal<Option<Word>>,
    /// Grows with every change that is not an edit of one field: undo, redo, reset, a new system.
    pub(crate) turned: RwSignal<u32>,
    host: StoredValue<HtmlElement>,
    history: StoredValue<History>,
    pending: StoredValue<Option<Scenario>>,
    frame: StoredValue<Option<AnimationFrameRequestHandle>>,
}

static DESKS: AtomicUsize = AtomicUsize::new(1);

impl Desk {
    /// A desk with a finished plan on it.
    pub(crate) fn new(host: HtmlElement, start: Plan, reader: Reader, alone: bool) -> Desk {
        let start = Shared::new(start);
        let memory = StoredValue::new(Memory::default());
        let scenario = RwSignal::new(start.scenario.clone());
        let outcome = Memo::new(move |previous: Option<&Outcome>| {
            scenario.with(|scenario| {
                let good = previous.map_or(&start, |outcome| &outcome.plan);
                if good.scenario == *scenario {
                    return Outcome { plan: good.clone(), problems: Vec::new() };
                }
                let planned = memory.try_update_value(|memory| plan_with(scenario, memory));
                match planned.unwrap_or_else(|| plan(scenario)) {
                    Ok(plan) => Outcome { plan: Shared::new(plan), problems: Vec::new() },
                    Err(problems) => Outcome { plan: good.clone(), problems },
                }
            })
        });
        let number = DESKS.fetch_add(1, Ordering::Relaxed);
        let desk = Desk {
            number,
            scenario,
            plan: Memo::new(move |_| outcome.with(|outcome| outcome.plan.clone())),
            problems: Memo::new(move |_| outcome.with(|outcome| outcome.problems.clone())),
            units: RwSignal::new(reader.units),
            paper: RwSignal::new(reader.paper),
            chapter: RwSignal::new(reader.chapter),
            daylight: RwSignal::new(Daylight::Season),
            years: RwSignal::new(Shared::new(Vec::new())),
            memory,
            arrived: later::arrival(number),
            reach: RwSignal::new((false, false)),
            alone,
            face: RwSignal::new(Face { chapters: Chapter::ALL.to_vec(), hands: Hands::On }),
            refusal: RwSignal::new(None),
            home: RwSignal::new(Scenario::default()),
            word: RwSignal::new(None),
            turned: RwSignal::new(0),
            host: StoredValue::new(host),
            history: StoredValue::new(History::default()),
            pending: StoredValue::new(None),
            frame: StoredValue::new(None),
        };
        on_cleanup(move || desk.cancel_frame());
        desk.follow_years();
        desk
    }

    /// Sums the light of every year when the plan has stood still for a moment, while it is shown: too
    /// much for every step of a slider.
    fn follow_years(self) {
        let waiting = StoredValue::new(None::<TimeoutHandle>);
        let stop = move || {
            if let Some(waiting) = waiting.try_update_value(Option::take).flatten() {
                waiting.clear();
            }
        };
        let sum = move || {
            let Some(later) = later::now() else { return };
            let plan = self.plan.get_untracked();
            let years = self.memory.try_update_value(|memory| (later.by_year)(memory, &plan));
            if let Some(years) = years {
                self.years.set(Shared::new(years));
            }
        };
        Effect::new(move |_| {
            self.plan.track();
            stop();
            if self.chapter.get() == Chapter::Light && self.later().is_some() {
                waiting.set_value(set_timeout_with_handle(sum, YEARS_AFTER).ok());
            }
        });
        on_cleanup(stop);
    }

    /// The light under the wide trees this planting replaces, on the same ground.
    pub(crate) fn beside(&self, plan: &Plan) -> Option<Arc<Season>> {
        let later = self.later()?;
        self.memory.try_update_value(|memory| (later.beside)(memory, plan))
    }

    /// How the reader looks at the plan now.
    pub(crate) fn reader(&self) -> Reader {
        Reader {
            units: self.units.get_untracked(),
            paper: self.paper.get_untracked(),
            chapter: self.chapter.get_untracked(),
        }
    }

    /// The light the drawings of this chapter show.
    pub(crate) fn light_shown(&self) -> Daylight {
        match self.chapter.get() {
            Chapter::Layout => Daylight::Plain,
            Chapter::Light => self.daylight.get(),
        }
    }

    /// What comes after the page stands, once it has.
    pub(crate) fn later(&self) -> Option<Later> {
        self.arrived.track();
        later::now()
    }

    /// An element id that no other mounted page uses.
    pub(crate) fn id(&self, name: &str) -> String {
        format!("rl{}-{name}", self.number)
    }

    /// Whether the page has been taken away meanwhile.
    pub(crate) fn is_gone(&self) -> bool {
        self.refusal.try_with_untracked(|_| ()).is_none()
    }

    /// The element the page is mounted in.
    pub(crate) fn host(&self) -> HtmlElement {
        self.host.get_value()
    }

    /// The scenario with the edits still waiting for their frame.
    fn latest(&self) -> Scenario {
        self.pending.try_get_value().flatten().unwrap_or_else(|| self.scenario.get_untracked())
    }

    /// Changes the scenario at the next frame, as part of a gesture that `settle` ends.
    pub(crate) fn edit(&self, spot: Spot, change: impl FnOnce(&mut Scenario)) {
        let before = self.latest();
        let mut after = before.clone();
        change(&mut after);
        if after == before {
            return;
        }
        self.history.try_update_value(|history| history.touch(spot, &before, js_sys::Date::now()));
        self.pending.set_value(Some(after));
        if self.frame.try_update_value(|frame| frame.is_none()) == Some(true) {
            let desk = *self;
            self.frame.set_value(request_animation_frame_with_handle(move || desk.flush()).ok());
        }
    }

    /// Ends a gesture: what it led to becomes one step to undo.
    pub(crate) fn settle(&self) {
        self.flush();
        let now = self.scenario.get_untracked();
        self.history.try_update_value(|history| history.settle(&now, js_sys::Date::now()));
        self.mark_reach();
    }

    /// A whole gesture at once, one step to undo.
    pub(crate) fn edit_now(&self, spot: Spot, change: impl FnOnce(&mut Scenario)) {
        self.edit(spot, change);
        self.settle();
        self.part();
    }

    /// The next gesture is a step of its own, however soon it comes.
    pub(crate) fn part(&self) {
        self.history.try_update_value(History::part);
    }

    /// Turns a dial at the next frame.
    pub(crate) fn turn(&self, dial: Dial, value: f64) {
        self.edit(dial.spot, |scenario| dial.set(scenario, value));
    }

    /// The hand has let go of a dial.
    pub(crate) fn let_go(&self, dial: Dial) {
        self.edit(dial.spot, |scenario| dial.order(scenario));
        self.settle();
    }

    /// Puts another scenario in place of this one, as one step to undo.
    pub(crate) fn replace(&self, scenario: Scenario) {
        self.settle();
        self.edit_now(Spot::of("replace"), |present| *present = scenario);
        self.turned.update(|turned| *turned += 1);
    }

    pub(crate) fn undo(&self) {
        self.step(History::undo);
    }

    pub(crate) fn redo(&self) {
        self.step(History::redo);
    }

    fn step(&self, go: fn(&mut History, &Scenario) -> Option<Scenario>) {
        self.settle();
        let now = self.scenario.get_untracked();
        if let Some(scenario) = self.history.try_update_value(|history| go(history, &now)).flatten() {
            self.scenario.set(scenario);
        }
        self.turned.update(|turned| *turned += 1);
        self.mark_reach();
    }

    fn mark_reach(&self) {
        let reach = self.history.try_update_value(|history| history.reach()).unwrap_or_default();
        if self.reach.get_untracked() != reach {
            self.reach.set(reach);
        }
    }

    /// Lets waiting edits take effect at once.
    pub(crate) fn flush(&self) {
        self.cancel_frame();
        if let Some(scenario) = self.pending.try_update_value(Option::take).flatten() {
            self.scenario.set(scenario);
        }
    }

    fn cancel_frame(&self) {
        if let Some(frame) = self.frame.try_update_value(Option::take).flatten() {
            frame.cancel();
        }
    }
}
