//! Derived values and changing parts of the page, each compiled once.
//!
//! Leptos makes code of its own for every closure that a view or a memo is given: some hundreds of them made
//! half of the program. Behind a box there is one kind of changing part, and one memo a type of value.

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
