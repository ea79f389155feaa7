//! The accessibility rules of axe-core, run in the page. The page's policy forbids a script of anyone else's; WebDriver's own
//! scripts are not the page's, so the rules come in that way.

use std::fmt;
use std::fs;

use serde::Deserialize;
use serde_json::json;

use super::Browser;
use crate::dist::tools;

/// A rule that the page breaks.
#[derive(Debug, Clone, Deserialize)]
pub struct Violation {
    /// The rule's id, such as `color-contrast`.
    pub id: String,
    /// What it asks for.
    pub help: String,
    /// Where it is broken.
    pub nodes: Vec<Place>,
}

/// A place where a rule is broken.
#[derive(Debug, Clone, Deserialize)]
pub struct Place {
    /// The element, as a CSS selector.
    pub target: Vec<serde_json::Value>,
    /// The element's markup, shortened.
    pub html: String,
    /// What would mend it.
    #[serde(default, rename = "failureSummary")]
    pub mend: String,
}

impl fmt::Display for Violation {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        writeln!(f, "{}: {}", self.id, self.help)?;
        for Place { target, html, mend } in &self.nodes {
            let target: Vec<String> =
                target.iter().map(|part| part.as_str().map_or_else(|| part.to_string(), Into::into)).collect();
            writeln!(f, "  {}  {html}\n    {}", target.join(" "), mend.replace('\n', "\n    "))?;
        }
        Ok(())
    }
}

impl Browser {
    /// The accessibility rules that the page breaks as it is now.
    ///
    /// # Panics
    /// When axe-core is missing or fails.
    #[must_use]
    #[track_caller]
    pub fn violations(&self) -> Vec<Violation> {
        self.violations_of(&[])
    }

    /// Those of some rules alone, by their ids; of all if none is named.
    ///
    /// # Panics
    /// As [`Browser::violations`].
    #[must_use]
    #[track_caller]
    pub fn violations_of(&self, rules: &[&str]) -> Vec<Violation> {
        if self.run("return typeof axe", &[]) != "object" {
            let path = tools().join("node/node_modules/axe-core/axe.min.js");
            let axe = fs::read_to_string(&path).unwrap_or_else(|error| {
                panic!("axe-core is not at {} ({error}): run `sh .ci/setup`", path.display());
            });
            self.run(&format!("{axe}\nwindow.axe = axe;"), &[]);
        }
        let script = "const [rules, done] = arguments;
            const wanted = rules.length ? { runOnly: rules } : {};
            axe.run(document, { resultTypes: ['violations'], ...wanted }).then(
                ({ violations }) => done(JSON.stringify(violations)),
                (error) => done(String(error)),
            );";
        let found = self.wait(self.driver().execute_async(script, vec![json!(rules)]));
        let found = found.json().as_str().unwrap_or_default();
        serde_json::from_str(found).unwrap_or_else(|error| panic!("axe-core failed ({error}): {found}"))
    }

    /// The page breaks no accessibility rule as it is now.
    ///
    /// # Panics
    /// When it does: with the rules and the places.
    #[track_caller]
    pub fn accessible(&self) {
        let violations = self.violations();
        let told: Vec<String> = violations.iter().map(ToString::to_string).collect();
        assert!(told.is_empty(), "accessibility rules are broken:\n{}", told.join("\n"));
    }
}
