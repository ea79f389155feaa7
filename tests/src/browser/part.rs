//! One part of the page, and what a person does with it.

use serde_json::{Value, json};
use thirtyfour::{Key, WebElement};

use super::Browser;
use super::find::FIELDS;

/// A part of the page that was found.
pub struct Part<'a> {
    browser: &'a Browser,
    element: WebElement,
    called: String,
}

impl<'a> Part<'a> {
    pub(super) fn new(browser: &'a Browser, element: WebElement, called: &str) -> Self {
        Self { browser, element, called: called.into() }
    }

    /// The part of this role and name inside this one; see [`Browser::find`].
    ///
    /// # Panics
    /// When it does not come: with the names of all parts of the role in here.
    #[track_caller]
    pub fn find(&self, role: &str, name: &str) -> Part<'a> {
        self.browser.find_among(Some(&self.element), &[role], name)
    }

    /// The field with this label inside this part, of whatever kind.
    ///
    /// # Panics
    /// When it does not come: with the labels of all fields in here.
    #[track_caller]
    pub fn field(&self, label: &str) -> Part<'a> {
        self.browser.find_among(Some(&self.element), &FIELDS, label)
    }

    /// Clicks or taps it, in the middle of the window: a strip that stays at an edge does not cover it there.
    ///
    /// # Panics
    /// When something else lies over it or it is gone.
    #[track_caller]
    pub fn click(&self) {
        self.script("arguments[0].scrollIntoView({ block: 'center', behavior: 'instant' })");
        let clicked = self.browser.runtime.block_on(self.element.click());
        clicked.unwrap_or_else(|error| panic!("{} cannot be clicked: {error}", self.called));
    }

    /// Puts this text in the place of what the field holds, key by key.
    ///
    /// # Panics
    /// When it cannot be typed into.
    #[track_caller]
    pub fn fill(&self, text: &str) {
        self.type_keys(Key::Control + "a");
        self.type_keys(Key::Backspace);
        if !text.is_empty() {
            self.type_keys(text);
        }
    }

    /// Puts this text in the place of what the field holds, all at once, as from the clipboard.
    ///
    /// # Panics
    /// When it cannot be typed into.
    #[track_caller]
    pub fn paste(&self, text: &str) {
        self.type_keys(Key::Control + "a");
        self.browser.devtools("Input.insertText", json!({ "text": text }));
    }

    /// Sends keys to it: text, [`Key`]s, or both (`Key::Shift + "a"`). A file field takes the path of a file.
    ///
    /// # Panics
    /// When it cannot be typed into.
    #[track_caller]
    pub fn type_keys(&self, keys: impl Into<thirtyfour::TypingData>) {
        let typed = self.browser.runtime.block_on(self.element.send_keys(keys));
        typed.unwrap_or_else(|error| panic!("{} takes no keys: {error}", self.called));
    }

    /// Chooses the option of a select that reads so.
    ///
    /// # Panics
    /// When there is no such option: with those there are.
    #[track_caller]
    pub fn choose(&self, option: &str) {
        let script = "const [select, wanted] = arguments;
            const options = Array.from(select.options ?? []);
            const found = options.find((option) => option.label.trim() === wanted);
            if (!found) return options.map((option) => option.label.trim()).join(' | ') || 'none';
            select.focus();
            select.value = found.value;
            select.dispatchEvent(new Event('input', { bubbles: true }));
            select.dispatchEvent(new Event('change', { bubbles: true }));
            return null;";
        let there = self.script_with(script, &[option.into()]);
        assert!(there.is_null(), "{} has no option “{option}”; its options: {there}", self.called);
    }

    /// The text that it shows.
    ///
    /// # Panics
    /// When it is gone.
    #[must_use]
    #[track_caller]
    pub fn text(&self) -> String {
        self.browser.wait(self.element.text())
    }

    /// What the field holds.
    ///
    /// # Panics
    /// When it is gone.
    #[must_use]
    #[track_caller]
    pub fn value(&self) -> String {
        self.browser.wait(self.element.value()).unwrap_or_default()
    }

    /// An attribute of the element, if it has it.
    ///
    /// # Panics
    /// When it is gone.
    #[must_use]
    #[track_caller]
    pub fn attribute(&self, name: &str) -> Option<String> {
        let script = "return arguments[0].getAttribute(arguments[1])";
        self.script_with(script, &[name.into()]).as_str().map(ToOwned::to_owned)
    }

    /// Whether it is checked, or chosen.
    ///
    /// # Panics
    /// When it is gone.
    #[must_use]
    #[track_caller]
    pub fn is_checked(&self) -> bool {
        self.browser.wait(self.element.is_selected())
    }

    /// Whether the keyboard's focus is on it.
    ///
    /// # Panics
    /// When it is gone.
    #[must_use]
    #[track_caller]
    pub fn has_focus(&self) -> bool {
        self.script("return document.activeElement === arguments[0]") == true
    }

    /// What assistive technology is told beside the name: the text of `aria-describedby` and `aria-errormessage`.
    ///
    /// # Panics
    /// When it is gone.
    #[must_use]
    #[track_caller]
    pub fn described(&self) -> String {
        let script = "const part = arguments[0];
            const ids = ['aria-describedby', 'aria-errormessage'].flatMap((name) => (part.getAttribute(name) ?? '').split(/\\s+/));
            return ids.map((id) => document.getElementById(id)?.innerText ?? '').filter(Boolean).join(' ');";
        self.script(script).as_str().unwrap_or_default().to_owned()
    }

    /// Its width and height in CSS pixels: whether a thumb can hit it.
    ///
    /// # Panics
    /// When it is gone.
    #[must_use]
    #[track_caller]
    pub fn size(&self) -> (f64, f64) {
        let rect = self.browser.wait(self.element.rect());
        (rect.width, rect.height)
    }

    #[track_caller]
    fn script(&self, script: &str) -> Value {
        self.script_with(script, &[])
    }

    #[track_caller]
    fn script_with(&self, script: &str, more: &[Value]) -> Value {
        let element = self.element.to_json().expect("an element has an id");
        let args: Vec<Value> = std::iter::once(element).chain(more.iter().cloned()).collect();
        self.browser.run(script, &args)
    }
}
