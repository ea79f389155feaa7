//! Derived values and changing parts of the page, each compiled once.
//!
//! Leptos makes code of its own for every closure that a view or a memo is given: some hundreds of them made
//! half of the program. Behind a box there is one kind of changing part, one list, one memo and one thing waited for.

use core::any::Any;
use core::hash::{Hash, Hasher};
use core::marker::PhantomData;
use core::pin::Pin;
use std::sync::Arc;

use leptos::prelude::*;
use leptos::task::spawn_local_scoped;

/// A part of the page that changes.
pub type Live = Box<dyn FnMut() -> AnyView + Send>;

/// A part of the page that is drawn anew whenever what it reads changes.
pub fn live<V: IntoAny>(mut draw: impl FnMut() -> V + Send + 'static) -> Live {
    Box::new(move || draw().into_any())
}

/// A value computed from signals, told on only when it has changed: Leptos' own `Memo`, whatever it is a value of.
pub struct Derived<T> {
    held: Memo<Held>,
    of: PhantomData<fn() -> T>,
}

impl<T> Clone for Derived<T> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<T> Copy for Derived<T> {}

/// A value that is computed from signals.
pub fn memo<T: PartialEq + Send + Sync + 'static>(compute: impl Fn() -> T + Send + Sync + 'static) -> Derived<T> {
    of_boxed(Box::new(move |_| Held(Arc::new(compute()))))
}

/// A value that is computed from signals and from what it was before.
pub fn memo_after<T: PartialEq + Send + Sync + 'static>(
    compute: impl Fn(Option<&T>) -> T + Send + Sync + 'static,
) -> Derived<T> {
    of_boxed(Box::new(move |before| Held(Arc::new(compute(before.map(Held::of))))))
}

/// A value that stays.
pub fn fixed<T: PartialEq + Clone + Send + Sync + 'static>(value: T) -> Derived<T> {
    memo(move || value.clone())
}

/// Computes a value from what it was before.
type Compute = Box<dyn Fn(Option<&Held>) -> Held + Send + Sync>;

fn of_boxed<T>(compute: Compute) -> Derived<T> {
    Derived { held: Memo::new(compute), of: PhantomData }
}

impl<T: 'static> Derived<T> {
    /// Reads the value; whatever does so inside a changing part or another value follows it.
    pub fn with<U>(self, read: impl FnOnce(&T) -> U) -> U {
        read(self.held.get().of())
    }

    /// Reads the value as it is now, without following it.
    pub fn with_untracked<U>(self, read: impl FnOnce(&T) -> U) -> U {
        read(self.held.get_untracked().of())
    }

    /// A copy of the value, followed.
    pub fn get(self) -> T
    where
        T: Clone,
    {
        self.with(T::clone)
    }

    /// A copy of the value as it is now.
    pub fn get_untracked(self) -> T
    where
        T: Clone,
    {
        self.with_untracked(T::clone)
    }
}

impl<T: PartialEq + Clone + Send + Sync + 'static> From<RwSignal<T>> for Derived<T> {
    fn from(signal: RwSignal<T>) -> Self {
        memo(move || signal.get())
    }
}

impl From<&'static str> for Derived<String> {
    fn from(text: &'static str) -> Self {
        fixed(text.to_owned())
    }
}

impl From<String> for Derived<String> {
    fn from(text: String) -> Self {
        fixed(text)
    }
}

impl<T: PartialEq + Default + Send + Sync + 'static> Default for Derived<T> {
    fn default() -> Self {
        memo(T::default)
    }
}

/// A value of any type that can be told from another.
#[derive(Clone)]
struct Held(Arc<dyn Value>);

impl Held {
    fn of<T: 'static>(&self) -> &T {
        let Some(value) = self.0.any().downcast_ref() else { unreachable!("a value is read as what it was made") };
        value
    }
}

impl PartialEq for Held {
    fn eq(&self, other: &Self) -> bool {
        self.0.is(other.0.any())
    }
}

trait Value: Any + Send + Sync {
    fn is(&self, other: &dyn Any) -> bool;
    fn any(&self) -> &dyn Any;
}

impl<T: PartialEq + Send + Sync + 'static> Value for T {
    fn is(&self, other: &dyn Any) -> bool {
        other.downcast_ref() == Some(self)
    }

    fn any(&self) -> &dyn Any {
        self
    }
}

/// Shows what is inside while something holds.
#[component]
pub fn Shown(
    /// While this holds.
    #[prop(into)]
    when: Derived<bool>,
    /// What stands there otherwise.
    #[prop(optional, into)]
    fallback: ViewFn,
    /// What is inside.
    children: ChildrenFn,
) -> impl IntoView {
    live(move || if when.get() { children() } else { fallback.run() })
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

/// Does what has to be waited for; what stands on the page can be asked for meanwhile.
pub fn wait(until: impl Future<Output = ()> + 'static) {
    let boxed: Pin<Box<dyn Future<Output = ()>>> = Box::pin(until);
    spawn_local_scoped(boxed);
}
