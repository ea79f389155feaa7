//! Whether a page suits a phone in the hand: it does not scroll sideways, and a thumb hits what is to be pressed.

use super::Browser;

/// The least width and height of what is pressed, in CSS pixels.
const THUMB: f64 = 44.0;

/// What is pressed, and the rectangle that takes the press: that of the label where a box to tick or a file field lies in
/// one. A link in running text is as high as its line, and what only the keyboard brings into sight is not for the thumb.
const SMALL: &str = "
    const [least] = arguments;
    const inText = (link) => {
        const around = link.parentElement.cloneNode(true);
        around.querySelectorAll('a, button').forEach((other) => other.remove());
        return getComputedStyle(link).display === 'inline' && around.textContent.trim() !== '';
    };
    const seen = (part) => part.checkVisibility({ checkVisibilityCSS: true, checkOpacity: true })
        && part.getBoundingClientRect().right > 0;
    const name = (part) => part.getAttribute('aria-label') || part.labels?.[0]?.innerText || part.innerText || part.id;
    const parts = [...document.querySelectorAll('button, a[href], input, select, textarea, summary')];
    return parts.filter(seen).filter((part) => part.localName !== 'a' || !inText(part)).flatMap((part) => {
        const label = ['checkbox', 'file'].includes(part.type) && part.closest('label');
        const { width, height } = (label || part).getBoundingClientRect();
        // Half a pixel is lost where a line is laid out between two.
        if (width >= least - 0.5 && height >= least - 0.5) return [];
        return [`${part.localName} “${name(part).replace(/\\s+/g, ' ').trim()}” is ${Math.round(width)} × ${Math.round(height)}`];
    })";

/// What sticks out of the window at its side, unless it lies in a part that scrolls by itself; nothing if the page does not
/// scroll sideways.
const WIDE: &str = "
    const [width] = arguments;
    if (document.documentElement.scrollWidth <= width) return [];
    const scrolls = (part) => part && (getComputedStyle(part).overflowX !== 'visible' || scrolls(part.parentElement));
    const out = [...document.body.querySelectorAll('*')].filter(
        (part) => part.getBoundingClientRect().right > width + 0.5 && !scrolls(part.parentElement));
    return [`the page is ${document.documentElement.scrollWidth} wide`,
        ...out.map((part) => part.outerHTML.slice(0, 90))]";

impl Browser {
    /// What is to be pressed and smaller than a thumb needs, each with its name and size.
    ///
    /// # Panics
    /// When the browser does not answer.
    #[must_use]
    #[track_caller]
    pub fn too_small_for_a_thumb(&self) -> Vec<String> {
        self.listed(SMALL, THUMB)
    }

    /// What makes the page wider than a window of this width; empty if nothing does.
    ///
    /// # Panics
    /// When the browser does not answer.
    #[must_use]
    #[track_caller]
    pub fn wider_than(&self, width: u32) -> Vec<String> {
        self.listed(WIDE, f64::from(width))
    }

    #[track_caller]
    fn listed(&self, script: &str, of: f64) -> Vec<String> {
        serde_json::from_value(self.run(script, &[of.into()])).expect("a list of texts")
    }
}
