//! How well what is written can be read: the contrast of each text that is in sight with what it stands on, by the formula of
//! WCAG 2, reckoned here from what the browser computes.

use serde_json::json;

use super::Browser;

/// Texts, boundaries of fields and tally strokes whose contrast is too low. Colours are laid over each other as they are
/// painted; a part that is not drawn is passed over, and so is what only the keyboard brings into sight.
const FAINT: &str = "
    const [least, large, part] = arguments;
    const read = (colour) => {
        const numbers = colour.match(/[\\d.]+/g)?.map(Number) ?? [0, 0, 0, 0];
        const whole = colour.startsWith('color(') ? 255 : 1;
        const [red, green, blue, alpha = 1] = numbers;
        return [red * whole, green * whole, blue * whole, alpha];
    };
    const over = ([r, g, b, a], [R, G, B]) => [r * a + R * (1 - a), g * a + G * (1 - a), b * a + B * (1 - a), 1];
    const paper = (element) => {
        if (!element) return read(getComputedStyle(document.documentElement).colorScheme.includes('dark')
            ? 'rgb(18, 18, 18)' : 'rgb(255, 255, 255)');
        const own = read(getComputedStyle(element).backgroundColor);
        return own[3] === 1 ? own : over(own, paper(element.parentElement));
    };
    const light = ([r, g, b]) => {
        const [R, G, B] = [r, g, b].map((it) => it / 255).map(
            (it) => it <= 0.04045 ? it / 12.92 : ((it + 0.055) / 1.055) ** 2.4);
        return 0.2126 * R + 0.7152 * G + 0.0722 * B;
    };
    const contrast = (a, b) => {
        const [high, low] = [light(a), light(b)].sort((a, b) => b - a);
        return (high + 0.05) / (low + 0.05);
    };
    const drawn = (element) => element.checkVisibility({ checkVisibilityCSS: true, checkOpacity: true })
        && element.getBoundingClientRect().right > 0 && !element.closest('.unseen, .skip');
    const faint = [];
    const judge = (element, what, colour, wanted) => {
        const ground = paper(what === 'boundary' ? element.parentElement : element);
        const is = contrast(over(read(colour), ground), ground);
        if (is < wanted - 0.005) faint.push(`${what} “${(element.innerText || element.textContent || element.id).trim().slice(0, 40)}” <${element.localName}>: `
            + `${is.toFixed(2)} where ${wanted} is wanted, ${colour}`);
    };
    const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    const seen = new Set();
    while (texts.nextNode()) {
        const element = texts.currentNode.parentElement;
        if (!texts.currentNode.data.trim() || seen.has(element) || !drawn(element)) continue;
        if (['SCRIPT', 'STYLE', 'OPTION', 'NOSCRIPT'].includes(element.nodeName)) continue;
        seen.add(element);
        const style = getComputedStyle(element);
        const size = parseFloat(style.fontSize);
        const isLarge = size >= 24 || (size >= 18.66 && Number(style.fontWeight) >= 700);
        judge(element, 'text', element.closest('svg') ? style.fill : style.color, isLarge ? large : least);
    }
    for (const field of document.querySelectorAll('input, select, textarea')) {
        if (!drawn(field)) continue;
        const style = getComputedStyle(field);
        judge(field, 'what is typed', style.color, least);
        if (!field.matches('[type=checkbox], :disabled, fieldset:disabled *')) judge(field, 'boundary', style.borderBlockEndColor, part);
    }
    for (const stroke of document.querySelectorAll('.tally path')) {
        if (drawn(stroke)) judge(stroke, 'stroke', getComputedStyle(stroke).stroke, part);
    }
    return faint.length ? [`${faint.length} of ${seen.size} are too faint`, ...faint.slice(0, 12)] : [];";

/// Texts that spill out of what is to be pressed, or are cut off in it.
const CUT: &str = "
    const parts = [...document.querySelectorAll('button, a, label, legend, th, h1, h2, h3')];
    const seen = (part) => part.checkVisibility({ checkVisibilityCSS: true, checkOpacity: true })
        && part.getBoundingClientRect().right > 0 && !part.closest('.unseen, .skip') && getComputedStyle(part).display !== 'inline';
    return parts.filter(seen).filter((part) => part.scrollWidth > part.clientWidth + 1 && part.clientWidth > 0)
        .map((part) => `${part.localName} “${part.innerText.trim().slice(0, 40)}” is ${part.clientWidth} wide and needs ${part.scrollWidth}`)";

impl Browser {
    /// What cannot be read well enough: texts below a contrast of `least`, or of `large` where their letters are large;
    /// boundaries of fields and tally strokes below 3.
    ///
    /// # Panics
    /// When the browser does not answer.
    #[must_use]
    #[track_caller]
    pub fn too_faint(&self, least: f64, large: f64) -> Vec<String> {
        serde_json::from_value(self.run(FAINT, &[json!(least), json!(large), json!(3)])).expect("a list of texts")
    }

    /// Texts of buttons, links, labels and headings that do not fit into them.
    ///
    /// # Panics
    /// When the browser does not answer.
    #[must_use]
    #[track_caller]
    pub fn spilling(&self) -> Vec<String> {
        serde_json::from_value(self.run(CUT, &[])).expect("a list of texts")
    }
}
