//! A long list of which only the rows in sight are on the page.

use core::ops::Range;
use std::sync::Arc;

use leptos::html;
use leptos::prelude::*;

use crate::live::{Derived, Each, memo};

/// Height of a row, in `rem`; the stylesheet's `--row` is the same.
const ROW_REM: f64 = 4.5;

/// Rows kept ready beyond the edges, so that the keyboard finds the next one.
const BEYOND: usize = 8;

/// Rows shown before the list has been measured.
const AT_FIRST: usize = 20;

/// Where the list stands, in pixels as the browser gives them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
struct Scroll {
    /// How far it is scrolled.
    top: i32,
    /// Height of all rows.
    whole: i32,
    /// Height that is in sight.
    sight: i32,
}

impl Scroll {
    /// Where the list will stand once it has other rows, each as high as before.
    fn with_rows(self, was: usize, count: usize) -> Self {
        let Ok(was @ 1..) = i64::try_from(was) else { return Self::default() };
        let whole = i64::from(self.whole) * i64::try_from(count).unwrap_or(0) / was;
        let whole = i32::try_from(whole).unwrap_or(i32::MAX);
        Self { whole, top: self.top.min(whole.saturating_sub(self.sight)), ..self }
    }
}

/// The rows, of so many, that are to be on the page.
fn in_sight(count: usize, scroll: Scroll) -> Range<usize> {
    let whole = u64::try_from(scroll.whole).unwrap_or(0);
    if whole == 0 {
        return 0..count.min(AT_FIRST);
    }
    // The row at a height, by proportion: the size of the letters does not matter.
    let row_at = |height: i32| {
        let height = u64::try_from(height).unwrap_or(0);
        usize::try_from(height * count as u64 / whole).unwrap_or(count)
    };
    let first = row_at(scroll.top).saturating_sub(BEYOND).min(count.saturating_sub(AT_FIRST));
    let last = row_at(scroll.top.saturating_add(scroll.sight)).saturating_add(BEYOND + 1);
    first..last.max(first + AT_FIRST).min(count)
}

/// A list of rows by id, each of the same height.
#[component]
pub fn Windowed(
    /// What it is a list of.
    label: &'static str,
    /// Ids of all rows, in order.
    #[prop(into)]
    rows: Derived<Vec<Arc<str>>>,
    /// Draws the row with an id.
    row: Callback<String, AnyView>,
) -> impl IntoView {
    let list = NodeRef::<html::Div>::new();
    let scroll = RwSignal::new(Scroll::default());
    let measure = move |_| {
        if let Some(list) = list.get_untracked() {
            scroll.set(Scroll { top: list.scroll_top(), whole: list.scroll_height(), sight: list.client_height() });
        }
    };
    let count = memo(move || rows.with(Vec::len));
    // Where the list stands is measured at each scroll, when it has so many rows; their number may have changed since.
    let measured = memo(move || (scroll.get(), count.get_untracked()));
    let shown = memo(move || {
        let (scroll, was) = measured.get();
        in_sight(count.get(), scroll.with_rows(was, count.get()))
    });
    let slice = move || {
        let range = shown.get();
        rows.with(|rows| range.filter_map(|place| rows.get(place).map(|id| (place, id.clone()))).collect::<Vec<_>>())
    };
    view! {
        <div class="window" tabindex="0" role="region" aria-label=label node_ref=list on:scroll=measure>
            <ol class="plain" style:height=move || format!("{}rem", count.get() as f64 * ROW_REM)>
                <Each each=slice key=Clone::clone let((place, id))>
                    <li
                        style:top=format!("{}rem", place as f64 * ROW_REM)
                        aria-posinset=(place + 1).to_string()
                        aria-setsize=move || count.get().to_string()
                    >
                        {row.run(id.to_string())}
                    </li>
                </Each>
            </ol>
        </div>
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn shows(count: usize, top: i32, want: Range<usize>) {
        let row = 72;
        let whole = row * i32::try_from(count).unwrap();
        assert_eq!(in_sight(count, Scroll { top, whole, sight: 10 * row }), want, "{count} from {top}");
    }

    #[test]
    fn rows_in_sight_and_some_beyond() {
        assert_eq!(in_sight(10_000, Scroll::default()), 0..20);
        shows(10_000, 0, 0..20);
        shows(10_000, 72 * 500, 492..519);
        shows(10_000, 72 * 9990, 9980..10_000);
        shows(5, 0, 0..5);
        shows(0, 0, 0..0);
    }

    #[test]
    fn a_stale_measure_stays_within_the_list() {
        let stale = Scroll { top: 500_000, whole: 720_000, sight: 700 };
        for count in [0, 1, 30, 10_000] {
            let range = in_sight(count, stale);
            assert!(range.start <= range.end && range.end <= count, "{range:?}");
            let soon = stale.with_rows(10_000, count);
            let shown = in_sight(count, soon);
            let at_the_top = usize::try_from(soon.top.max(0) / 72).unwrap();
            assert!(count == 0 || shown.contains(&at_the_top), "{shown:?} of {count} at {soon:?}");
        }
        assert_eq!(stale.with_rows(0, 5), Scroll::default());
        assert_eq!(in_sight(3, Scroll { top: -5, whole: -1, sight: i32::MAX }), 0..3);
    }
}
