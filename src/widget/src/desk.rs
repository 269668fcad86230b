//! The state of the page: one scenario, the last plan that worked, the reader's units and paper.
//!
//! Everything flows one way: an edit changes the scenario, the scenario makes the plan, and the
//! drawings and figures read the plan. Edits wait for the next frame, the latest wins; a scenario
//! with fields at odds is kept as typed while everything drawn stays on the last good plan.

use crate::chapter::Chapter;
use crate::dial::{Dial, ItemKey};
use crate::glossary::TradeWord;
use crate::hand::Hand;
use crate::history::{History, Steps};
use crate::outcomes::{self, Results};
use crate::reactive::*;
use crate::rooms;
use crate::saved::{self, Broken, Own, Reader};
use crate::shared::Shared;
use crate::signal::{Derived, Owned, State};
use drafting::packet::Paper;
use drafting::{Daylight, Units};
use planting::ground::{Memory, gravest_first};
use planting::manifest::CHAPTERS;
use planting::{Advice, Figure, Ground, Problem, Scenario, Working};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::Duration;
use web_sys::HtmlElement;

/// How long a plan must stand still before the rules of other chapters are asked and years are summed.
const STILL_AFTER: Duration = Duration::from_millis(120);

/// The ground of the last scenario that worked, and what keeps the present one from being a plan; nothing where it is one.
#[derive(Clone, PartialEq)]
struct Laid {
    ground: Shared<Ground>,
    problems: Vec<Problem>,
}

/// A word of the trade being explained, and the edges in the window of the button it was asked at `[px]`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Word {
    pub(crate) term: &'static TradeWord,
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

/// The page's state. It consists of handles and is copied freely: all copies are the same desk.
#[derive(Clone, Copy)]
pub(crate) struct Desk {
    /// Tells one mounted page from another in element ids.
    pub(crate) number: usize,
    /// What has been set, fields at odds included.
    pub(crate) scenario: State<Scenario>,
    /// The ground of the last plan that worked.
    pub(crate) ground: Derived<Shared<Ground>>,
    /// The ground of a remedy that a reader looks at before it is taken.
    pub(crate) preview: State<Option<Shared<Ground>>>,
    /// The ground that is drawn: the preview's, or the plan's.
    pub(crate) drawn: Derived<Shared<Ground>>,
    /// What the rooms have computed over the ground that is drawn.
    results: Owned<Vec<Results>>,
    /// What all rules find, the gravest first.
    pub(crate) findings: Derived<Vec<Advice>>,
    /// What keeps the scenario from being a plan.
    pub(crate) problems: Derived<Vec<Problem>>,
    /// The reader's units.
    pub(crate) units: State<Units>,
    /// The paper to print on.
    pub(crate) paper: State<Paper>,
    /// The chapter turned to.
    pub(crate) chapter: State<Chapter>,
    /// The light its drawings show, in the chapter of light.
    pub(crate) daylight: State<Daylight>,
    /// Changes when a part that comes in a file of its own has come or could not be fetched.
    pub(crate) news: State<u32>,
    /// Whether there is a step back and a step forward.
    pub(crate) steps: State<Steps>,
    /// Whether the page is this planner's own; else it is a guest in somebody's page.
    pub(crate) alone: bool,
    /// What its host shows of it.
    pub(crate) face: State<Face>,
    /// What could not be taken; stays until it is put away.
    pub(crate) refusal: State<Option<Refusal>>,
    /// The plan "Start again" leads to.
    pub(crate) home: State<Scenario>,
    /// The reader's own plan, where a link's stands in its place; it waits until it is taken back or sent away.
    pub(crate) own: State<Option<Own>>,
    /// Where in the browser's storage the plan is kept, if it is.
    pub(crate) storage_key: Owned<Option<String>>,
    /// The word of the trade being explained, and where.
    pub(crate) word: State<Option<Word>>,
    /// What a hand does to the plan.
    pub(crate) hand: Hand,
    /// Grows with every change that is not an edit of one field: undo, redo, reset, a new system.
    pub(crate) turned: State<u32>,
    host: Owned<HtmlElement>,
    history: Owned<History>,
    pending: Owned<Option<Scenario>>,
    frame: Owned<Option<AnimationFrameRequestHandle>>,
}

static DESKS: AtomicUsize = AtomicUsize::new(1);

impl Desk {
    /// A desk with a finished plan on it, and perhaps another one step back.
    pub(crate) fn new(
        host: HtmlElement,
        start: Ground,
        before: Option<Scenario>,
        reader: Reader,
        alone: bool,
    ) -> Desk {
        let start = Shared::new(start);
        let history = History::after(before);
        let memory = Owned::new(Memory::default());
        let scenario = State::new(start.scenario.clone());
        let laid = Derived::new(move |previous: Option<&Laid>| {
            scenario.with(|scenario| {
                let good = previous.map_or(&start, |laid| &laid.ground);
                if good.scenario == *scenario {
                    return Laid { ground: good.clone(), problems: Vec::new() };
                }
                let laid = memory.try_update_value(|memory| Ground::lay(scenario, memory));
                match laid.unwrap_or_else(|| Ground::lay(scenario, &mut Memory::default())) {
                    Ok(ground) => Laid { ground: Shared::new(ground), problems: Vec::new() },
                    Err(problems) => Laid { ground: good.clone(), problems },
                }
            })
        });
        let ground = Derived::new(move |_| laid.with(|laid| laid.ground.clone()));
        let number = DESKS.fetch_add(1, Ordering::Relaxed);
        let (news, chapter) = (rooms::news(number), State::new(reader.chapter));
        let preview = State::new(None::<Shared<Ground>>);
        let drawn = Derived::new(move |_| preview.get().unwrap_or_else(|| ground.get()));
        let results = outcomes::all(drawn, news);
        let desk = Desk {
            number,
            scenario,
            ground,
            preview,
            drawn,
            results: Owned::new(results.clone()),
            findings: Derived::new(move |before: Option<&Vec<Advice>>| {
                // The list stays while one of its remedies is looked at.
                if let (true, Some(before)) = (preview.with(Option::is_some), before) {
                    return before.clone();
                }
                let (ground, chapter) = (ground.get(), chapter.get());
                news.track();
                // The rules of the ground come with the words they speak in.
                let mut found = rooms::words::now().map(|words| (words.advice)(&ground)).unwrap_or_default();
                for room in &results {
                    found.extend(room.advice(&ground, room.key == chapter.key()));
                }
                gravest_first(&mut found);
                found
            }),
            problems: Derived::new(move |_| laid.with(|laid| laid.problems.clone())),
            units: State::new(reader.units),
            paper: State::new(reader.paper),
            chapter,
            daylight: State::new(Daylight::Season),
            news,
            steps: State::new(history.steps()),
            alone,
            face: State::new(Face { chapters: Chapter::all().collect(), hands: Hands::On }),
            refusal: State::new(None),
            home: State::new(Scenario::default()),
            own: State::new(None),
            storage_key: Owned::new(None),
            word: State::new(None),
            hand: Hand::new(),
            turned: State::new(0),
            host: Owned::new(host),
            history: Owned::new(history),
            pending: Owned::new(None),
            frame: Owned::new(None),
        };
        on_cleanup(move || desk.cancel_frame());
        desk.follow_rest();
        desk
    }

    /// Has the rooms do what takes long when the plan has stood still for a moment.
    fn follow_rest(self) {
        let waiting = Owned::new(None::<TimeoutHandle>);
        let stop = move || {
            if let Some(waiting) = waiting.try_update_value(Option::take).flatten() {
                waiting.clear();
            }
        };
        let rest = move || {
            let Some(results) = self.results.try_get_value() else { return };
            if self.preview.with_untracked(Option::is_some) {
                return;
            }
            let ground = self.ground.get_untracked();
            let mut before: &[Results] = &[];
            for (place, room) in results.iter().enumerate() {
                room.rest(&ground, before);
                before = results.get(..=place).unwrap_or_default();
            }
        };
        Effect::new(move |_| {
            self.drawn.track();
            self.news.track();
            stop();
            waiting.set_value(set_timeout_with_handle(rest, STILL_AFTER).ok());
        });
        on_cleanup(stop);
    }

    /// The results of the chapter's room; none where the chapter has no room of its own.
    pub(crate) fn room(&self) -> Option<Results> {
        let key = self.chapter.get().key();
        self.results.try_get_value()?.into_iter().find(|room| room.key == key)
    }

    /// The figure with this key, of the ground or of the chapter's room.
    pub(crate) fn figure(&self, key: &str) -> Option<Figure> {
        self.drawn.with(|ground| ground.figure(key)).or_else(|| {
            let put = self.room()?.live.get()?;
            put.outcome.figure(key)
        })
    }

    /// Every figure of the ground and of the chapter's room, in reading order.
    pub(crate) fn figures(&self) -> Vec<Figure> {
        let of_room = self.room().and_then(|room| room.live.get()).map(|put| put.outcome.figures());
        self.drawn.with(|ground| ground.figures_with(of_room.unwrap_or_default()))
    }

    /// How a figure comes about; nothing before the file with the words for it has come.
    pub(crate) fn working(&self, key: &str) -> Option<Working> {
        self.news.track();
        let of_ground =
            rooms::words::now().and_then(|words| self.drawn.with(|ground| (words.working)(ground, key)));
        of_ground.or_else(|| {
            let put = self.room()?.live.get()?;
            put.outcome.working(key)
        })
    }

    /// Whether the rules of the ground have come, so that no finding means that there is none.
    pub(crate) fn has_looked(&self) -> bool {
        self.news.track();
        rooms::words::now().is_some()
    }

    /// Whether the rules of every room have come too.
    pub(crate) fn has_looked_everywhere(&self) -> bool {
        self.has_looked() && CHAPTERS.iter().filter_map(|chapter| chapter.file).all(rooms::is_here)
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
        if self.chapter.get().is_lit() { self.daylight.get() } else { Daylight::Plain }
    }

    /// Whether the room of the chapter turned to is here.
    pub(crate) fn is_whole(&self) -> bool {
        self.news.track();
        self.chapter.get().file().is_none_or(rooms::is_here)
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
    pub(crate) fn latest(&self) -> Scenario {
        self.pending.try_get_value().flatten().unwrap_or_else(|| self.scenario.get_untracked())
    }

    /// Changes the scenario at the next frame, as part of a gesture that `settle` ends.
    pub(crate) fn edit(&self, item_key: ItemKey, change: impl FnOnce(&mut Scenario)) {
        let before = self.latest();
        let mut after = before.clone();
        change(&mut after);
        if after == before {
            return;
        }
        self.look_away();
        self.history.try_update_value(|history| history.touch(item_key, &before, js_sys::Date::now()));
        self.hand.begin(item_key, || self.ground.get_untracked());
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
        self.hand.rest();
        self.tell_steps();
    }

    /// A whole gesture at once, one step to undo.
    pub(crate) fn edit_now(&self, item_key: ItemKey, change: impl FnOnce(&mut Scenario)) {
        self.edit(item_key, change);
        self.settle();
        self.part();
    }

    /// Makes the next gesture a step of its own, however soon it comes.
    pub(crate) fn part(&self) {
        self.history.try_update_value(History::part);
    }

    /// Draws the plan again as it is, where a remedy has been looked at.
    pub(crate) fn look_away(&self) {
        if self.preview.with_untracked(Option::is_some) {
            self.preview.set(None);
        }
    }

    /// Turns a dial at the next frame.
    pub(crate) fn turn(&self, dial: Dial, value: f64) {
        self.edit(dial.item_key, |scenario| dial.set(scenario, value));
    }

    /// Shows a year at the next frame. Its dial isn't asked, because that knows whole years only, and while the years play the picture
    /// moves between them.
    pub(crate) fn show_year(&self, year: f64) {
        self.edit(ItemKey::of("year"), |scenario| scenario.canopy.year = year);
    }

    /// Ends the gesture on a dial, once the hand has let go of it.
    pub(crate) fn let_go(&self, dial: Dial) {
        self.edit(dial.item_key, |scenario| dial.order(scenario));
        self.settle();
    }

    /// Puts another scenario in place of this one, as one step to undo.
    pub(crate) fn replace(&self, scenario: Scenario) {
        self.settle();
        self.edit_now(ItemKey::of("replace"), |present| *present = scenario);
        self.turned.update(|turned| *turned += 1);
    }

    /// Keeps the reader's own plan beside a link's that takes its place, and offers it back. One that waits already stays.
    pub(crate) fn keep_own(self, scenario: Scenario, reader: Reader) {
        if self.own.with_untracked(Option::is_none) {
            let storage_key = self.storage_key.get_value();
            self.own.set(Some(saved::keep_own(storage_key.as_deref(), scenario, reader)));
        }
    }

    /// Puts the reader's own plan back in its place, as one step to undo.
    pub(crate) fn take_own(self) {
        let Some(own) = self.own.get_untracked() else { return };
        if let Some(storage_key) = self.storage_key.get_value() {
            // Saved at once and not when the plan stands still: the page may end before, and the plan would be lost.
            saved::store(&storage_key, saved::file(&own.scenario, own.reader).as_deref());
        }
        self.let_go_of_own();
        self.units.set(own.reader.units);
        self.paper.set(own.reader.paper);
        self.replace(own.scenario);
    }

    /// Lets go of the reader's own plan.
    pub(crate) fn let_go_of_own(self) {
        self.own.set(None);
        if let Some(storage_key) = self.storage_key.get_value() {
            saved::let_go_of_own(&storage_key);
        }
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
            self.hand.step(self.ground.get_untracked());
            self.scenario.set(scenario);
        }
        self.turned.update(|turned| *turned += 1);
        self.tell_steps();
    }

    fn tell_steps(&self) {
        let steps = self.history.try_update_value(|history| history.steps()).unwrap_or_default();
        if self.steps.get_untracked() != steps {
            self.steps.set(steps);
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
