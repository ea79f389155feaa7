//! Kerbworth's screens: a thin shell over `kerbworth-core`. No judgement and no arithmetic lives here.

mod app;
mod browser;
mod ids;
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
