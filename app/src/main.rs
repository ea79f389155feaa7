//! Kerbworth's screens: a thin shell over `kerbworth-core`. No judgement and no arithmetic lives here.

#![allow(clippy::needless_pass_by_value, reason = "a component owns what it is given")]

mod app;
mod browser;
mod ids;
mod live;
mod panic;
mod part;
mod route;
mod screen;
mod store;
mod words;

fn main() {
    panic::tell_the_page();
    leptos::mount::mount_to_body(app::App);
}
