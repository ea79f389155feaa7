//! The last word of a program that must stop: `public/boot.js` hears it and shows what happened.

/// From now on a panic is told to the page as the event `kerbworth-panic`, beside its line in the console.
pub fn tell_the_page() {
    std::panic::set_hook(Box::new(|panic| {
        console_error_panic_hook::hook(panic);
        // If this fails, the trap that follows reaches boot.js as well, only with fewer words.
        crate::browser::page::tell("kerbworth-panic", &panic.to_string());
    }));
}
