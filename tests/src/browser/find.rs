//! Finding parts by role and name, as the browser tells them to assistive technology: a part that a screen reader could not
//! find, a test does not find either.

use serde_json::{Value, json};
use thirtyfour::WebElement;

use super::{Browser, Part};

/// The roles of parts that hold what a person enters.
pub(super) const FIELDS: [&str; 9] =
    ["textbox", "searchbox", "combobox", "checkbox", "radio", "spinbutton", "slider", "switch", "Date"];

/// A part of the accessibility tree.
struct Node {
    role: String,
    name: String,
    id: u64,
}

impl Browser {
    /// The part of this role (`button`, `link`, `heading`, `dialog`, …) with exactly this accessible name, as soon as it is
    /// there. Of several, the first.
    ///
    /// # Panics
    /// When it does not come: with the names of all parts of the role.
    #[track_caller]
    pub fn find(&self, role: &str, name: &str) -> Part<'_> {
        self.find_among(None, &[role], name)
    }

    /// The field with this label, of whatever kind.
    ///
    /// # Panics
    /// When it does not come: with the labels of all fields.
    #[track_caller]
    pub fn field(&self, label: &str) -> Part<'_> {
        self.find_among(None, &FIELDS, label)
    }

    /// The names of all parts of this role, in the order of the page.
    ///
    /// # Panics
    /// When the browser does not answer.
    #[must_use]
    #[track_caller]
    pub fn names(&self, role: &str) -> Vec<String> {
        self.nodes(None, &[role]).into_iter().map(|node| node.name).collect()
    }

    /// The first element that a CSS selector finds, as soon as it is there. For what has no role or name of its own.
    ///
    /// # Panics
    /// When it does not come.
    #[track_caller]
    pub fn css(&self, selector: &str) -> Part<'_> {
        let script = "return document.querySelector(arguments[0])";
        let element =
            self.until(&format!("there is an element {selector}"), || self.element(script, &[selector.into()]));
        Part::new(self, element, selector)
    }

    /// Whether a part of this role and name is there now.
    ///
    /// # Panics
    /// When the browser does not answer.
    #[must_use]
    #[track_caller]
    pub fn has(&self, role: &str, name: &str) -> bool {
        self.nodes(None, &[role]).iter().any(|node| node.name == name)
    }

    /// The same within an element, or on the whole page if there is none.
    #[track_caller]
    pub(super) fn find_among(&self, within: Option<&WebElement>, roles: &[&str], name: &str) -> Part<'_> {
        let found = self.patiently(|| {
            let node = self.nodes(within, roles).into_iter().find(|node| node.name == name)?;
            self.element_of(&node)
        });
        let element = found.unwrap_or_else(|| {
            let there: Vec<String> =
                self.nodes(within, roles).iter().map(|node| format!("  {} “{}”", node.role, node.name)).collect();
            panic!(
                "no {} “{name}” came; there are:\n{}\nthe page reads:\n{}",
                roles.join("/"),
                there.join("\n"),
                self.text()
            )
        });
        Part::new(self, element, &format!("“{name}”"))
    }

    #[track_caller]
    fn nodes(&self, within: Option<&WebElement>, roles: &[&str]) -> Vec<Node> {
        let root = match within {
            Some(element) => self.object_of(element),
            None => {
                let page = self.devtools("DOM.getDocument", json!({ "depth": 0 }));
                page.get("root").and_then(|root| root.get("nodeId")).cloned()
            }
        };
        let root_is = if within.is_some() { "objectId" } else { "nodeId" };
        let one_role = |role: &&str| {
            let found = self.devtools("Accessibility.queryAXTree", json!({ root_is: root, "role": role }));
            found.get("nodes").and_then(Value::as_array).cloned().unwrap_or_default()
        };
        let mut nodes: Vec<Node> = roles.iter().flat_map(one_role).filter_map(|node| Node::read(&node)).collect();
        // Ids grow as elements are made, so this is the page's order only within one role; good enough to take the first.
        if roles.len() > 1 {
            nodes.sort_by_key(|node| node.id);
        }
        nodes
    }

    // From an element to what the DevTools call it: WebDriver puts it where they can pick it up.
    #[track_caller]
    fn object_of(&self, element: &WebElement) -> Option<Value> {
        self.run("window.keptByTest = arguments[0]", &[element.to_json().ok()?]);
        let found = self.devtools("Runtime.evaluate", json!({ "expression": "window.keptByTest" }));
        found.pointer("/result/objectId").cloned()
    }

    // From a node of the accessibility tree to the element: the DevTools put it where WebDriver can pick it up.
    fn element_of(&self, node: &Node) -> Option<WebElement> {
        let cdp = self.driver().cdp();
        // The element may have gone since it was found; then the caller looks again.
        let resolved =
            self.runtime.block_on(cdp.send_raw("DOM.resolveNode", json!({ "backendNodeId": node.id }))).ok()?;
        let object = resolved.pointer("/object/objectId")?;
        let keep = json!({ "objectId": object, "functionDeclaration": "function () { window.foundByTest = this; }" });
        self.runtime.block_on(cdp.send_raw("Runtime.callFunctionOn", keep)).ok()?;
        self.element("const found = window.foundByTest; delete window.foundByTest; return found", &[])
    }

    #[track_caller]
    fn element(&self, script: &str, args: &[Value]) -> Option<WebElement> {
        let found = self.wait(self.driver().execute(script, args.to_vec()));
        found.element().ok()
    }
}

impl Node {
    fn read(node: &Value) -> Option<Self> {
        let text = |at: &str| node.pointer(at).and_then(Value::as_str).unwrap_or_default().to_owned();
        let hidden = node.get("ignored").and_then(Value::as_bool).unwrap_or(false);
        let id = node.get("backendDOMNodeId").and_then(Value::as_u64)?;
        (!hidden).then(|| Self { role: text("/role/value"), name: text("/name/value"), id })
    }
}
