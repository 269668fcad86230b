//! Undo and redo over whole scenarios.
//!
//! A drag, a slide or a held key is one gesture and becomes one step, however many values it passes
//! through. Knows nothing of the browser, so that it can be tested on any machine.

use crate::dial::ItemKey;
use planting::Scenario;

/// Steps kept; a scenario is small, a session is long.
const MOST: usize = 200;

/// Two gestures on the same input that are closer together in time than this count as one, unless `part` is called between them, so that tapping an
/// arrow key ten times is undone at once `[ms]`.
const SAME_GESTURE_MS: f64 = 900.0;

/// Whether there is a step to undo and one to do again.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Steps {
    pub(crate) back: bool,
    pub(crate) forward: bool,
}

/// The scenarios before and after the present one.
#[derive(Default)]
pub(crate) struct History {
    past: Vec<Scenario>,
    future: Vec<Scenario>,
    open: Option<(ItemKey, Scenario)>,
    last: Option<(ItemKey, f64)>,
}

impl History {
    /// A history that begins with a step from an earlier scenario, where there is one.
    pub(crate) fn after(before: Option<Scenario>) -> History {
        History { past: before.into_iter().collect(), ..History::default() }
    }

    /// Something at this input is about to change the scenario as it stands.
    pub(crate) fn touch(&mut self, item_key: ItemKey, before: &Scenario, now_ms: f64) {
        if self.open.as_ref().is_some_and(|(open, _)| *open == item_key) {
            return;
        }
        self.settle(before, now_ms);
        self.open = Some((item_key, before.clone()));
    }

    /// The gesture is over and has led to this scenario.
    pub(crate) fn settle(&mut self, after: &Scenario, now_ms: f64) {
        let Some((item_key, before)) = self.open.take() else { return };
        if before == *after {
            return;
        }
        let goes_on = self.last.is_some_and(|(last, at)| last == item_key && now_ms - at < SAME_GESTURE_MS);
        if !goes_on || self.past.is_empty() {
            self.past.push(before);
            if self.past.len() > MOST {
                self.past.remove(0);
            }
        }
        self.future.clear();
        self.last = Some((item_key, now_ms));
    }

    /// Makes the next gesture a step of its own, however soon it comes.
    pub(crate) fn part(&mut self) {
        self.last = None;
    }

    /// Steps back from the scenario as it stands.
    pub(crate) fn undo(&mut self, now: &Scenario) -> Option<Scenario> {
        let earlier = self.past.pop()?;
        self.future.push(now.clone());
        self.last = None;
        Some(earlier)
    }

    /// Steps forward again.
    pub(crate) fn redo(&mut self, now: &Scenario) -> Option<Scenario> {
        let later = self.future.pop()?;
        self.past.push(now.clone());
        self.last = None;
        Some(later)
    }

    /// Whether there is a step back and a step forward.
    pub(crate) fn steps(&self) -> Steps {
        Steps { back: !self.past.is_empty(), forward: !self.future.is_empty() }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use planting::feet;

    fn with_row(width: f64) -> Scenario {
        Scenario::default().with(|s| s.block.row_width = feet(width))
    }

    #[test]
    fn a_drag_is_one_step() {
        let mut history = History::default();
        let row = ItemKey::of("row_width");
        history.touch(row, &with_row(12.0), 0.0);
        history.touch(row, &with_row(12.5), 10.0);
        history.touch(row, &with_row(13.0), 20.0);
        history.settle(&with_row(14.0), 30.0);
        assert_eq!(history.undo(&with_row(14.0)), Some(with_row(12.0)));
        assert_eq!(history.redo(&with_row(12.0)), Some(with_row(14.0)));
        assert_eq!(history.steps(), Steps { back: true, forward: false });
    }

    #[test]
    fn keys_in_quick_succession_are_one_step_and_slow_ones_are_two() {
        let row = ItemKey::of("row_width");
        for (pause, steps) in [(200.0, 1), (2000.0, 2)] {
            let mut history = History::default();
            history.touch(row, &with_row(12.0), 0.0);
            history.settle(&with_row(12.5), 1.0);
            history.touch(row, &with_row(12.5), pause);
            history.settle(&with_row(13.0), pause);
            assert_eq!(history.past.len(), steps);
        }
    }

    #[test]
    fn parted_gestures_are_two_steps_however_quick() {
        let row = ItemKey::of("row_width");
        let mut history = History::default();
        for width in [12.0, 12.5] {
            history.touch(row, &with_row(width), 0.0);
            history.settle(&with_row(width + 0.5), 1.0);
            history.part();
        }
        assert_eq!(history.past, [with_row(12.0), with_row(12.5)]);
    }

    #[test]
    fn a_gesture_that_changes_nothing_leaves_no_step() {
        let mut history = History::default();
        history.touch(ItemKey::of("row_width"), &with_row(12.0), 0.0);
        history.settle(&with_row(12.0), 5.0);
        assert_eq!(history.steps(), Steps { back: false, forward: false });
    }

    #[test]
    fn what_stood_before_is_one_step_back() {
        assert_eq!(History::after(None).steps(), Steps { back: false, forward: false });
        let mut history = History::after(Some(with_row(11.0)));
        assert_eq!(history.undo(&with_row(14.0)), Some(with_row(11.0)));
        assert_eq!(history.redo(&with_row(11.0)), Some(with_row(14.0)));
    }

    #[test]
    fn another_field_closes_an_open_gesture() {
        let mut history = History::default();
        history.touch(ItemKey::of("row_width"), &with_row(12.0), 0.0);
        history.touch(ItemKey::of("headland"), &with_row(13.0), 5.0);
        assert_eq!(history.past, vec![with_row(12.0)]);
    }
}
