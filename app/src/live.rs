//! Derived values and changing parts of the page, each compiled once.
//!
//! Leptos makes code of its own for every closure that a view or a memo is given: some hundreds of them made
//! half of the program. Behind a box there is one kind of changing part, one list, and one memo a type of value.

use core::hash::{Hash, Hasher};
use std::sync::Arc;

use leptos::prelude::*;

/// A part of the page that changes.
pub type Live = Box<dyn FnMut() -> AnyView + Send>;

/// A part of the page that is drawn anew whenever what it reads changes.
pub fn live<V: IntoAny>(mut draw: impl FnMut() -> V + Send + 'static) -> Live {
    Box::new(move || draw().into_any())
}

/// A value computed from signals, told on only when it has changed.
pub fn memo<T: PartialEq + Send + Sync + 'static>(compute: impl Fn() -> T + Send + Sync + 'static) -> Memo<T> {
    of_boxed(Box::new(compute))
}

fn of_boxed<T: PartialEq + Send + Sync + 'static>(compute: Box<dyn Fn() -> T + Send + Sync>) -> Memo<T> {
    Memo::new(move |_| compute())
}

/// Shows what is inside while something holds.
#[component]
pub fn Shown(
    /// While this holds.
    #[prop(into)]
    when: Signal<bool>,
    /// What stands there otherwise.
    #[prop(optional, into)]
    fallback: ViewFn,
    /// What is inside.
    children: ChildrenFn,
) -> impl IntoView {
    let holds = memo(move || when.get());
    live(move || if holds.get() { children() } else { fallback.run() })
}

/// A list that keeps each row as long as its key stays in it: Leptos' own `For`, whatever it is a list of.
#[component]
pub fn Each<T, K, V>(
    /// What there is a row for.
    each: impl Fn() -> Vec<T> + Send + 'static,
    /// What tells one from another.
    key: impl Fn(&T) -> K + Send + 'static,
    /// Draws a row.
    children: impl Fn(T) -> V + Send + Sync + 'static,
) -> impl IntoView
where
    T: Send + 'static,
    K: Hash + 'static,
    V: IntoAny + 'static,
{
    let draw: Draw<T> = Arc::new(move |item| children(item).into_any());
    rows(Box::new(move || each().into_iter().map(|item| row(bytes(&key(&item)), item, &draw)).collect()))
}

/// Draws the row of an item.
type Draw<T> = Arc<dyn Fn(T) -> AnyView + Send + Sync>;

/// A row that is drawn if it is not there yet.
struct Row {
    key: Vec<u8>,
    draw: Box<dyn FnOnce() -> AnyView + Send>,
}

fn row<T: Send + 'static>(key: Vec<u8>, item: T, draw: &Draw<T>) -> Row {
    let draw = Arc::clone(draw);
    Row { key, draw: Box::new(move || draw(item)) }
}

fn rows(rows: Box<dyn Fn() -> Vec<Row> + Send>) -> AnyView {
    view! { <For each=rows key=|row| row.key.clone() children=|row| (row.draw)() /> }.into_any()
}

/// All that a value feeds to its hash, as it is: the same for equal values, and for no others.
fn bytes(value: &impl Hash) -> Vec<u8> {
    struct Fed(Vec<u8>);
    impl Hasher for Fed {
        fn write(&mut self, bytes: &[u8]) {
            self.0.extend_from_slice(bytes);
        }

        fn finish(&self) -> u64 {
            0 // nobody asks: what was fed is the key
        }
    }
    let mut fed = Fed(Vec::new());
    value.hash(&mut fed);
    fed.0
}
