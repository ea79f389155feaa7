//! The blank worksheet for the field: one click prints it; every check of the chosen sheet is on it once, in walking order, with
//! boxes to strike, readings with unit and limits, and the cautions; in greys alone.

use kerbworth_core::hand_over::blank::{BlankCheck, blank};
use kerbworth_tests::app::App;
use kerbworth_tests::browser::{A4, DARK, DESK, LETTER};
use kerbworth_tests::dist::shots;

use crate::paper::{Print, squeezed};

#[test]
fn the_blank_sheet_is_whole_on_either_paper() {
    let app = App::open(DESK);
    app.demo();
    app.prefer(DARK);
    app.go("Checks");
    app.run("window.printed = 0; window.print = () => { window.printed += 1 }", &[]);
    app.find("link", "Print blank").click();
    app.at("On paper");
    app.until("the dialog of the printer was asked for", || (app.run("return window.printed", &[]) == 1).then_some(()));
    let twin = app.twin();
    let stages = blank(&twin.sheet, &twin.appraisal.tags, &twin.show);
    let checks: Vec<&BlankCheck> = stages.iter().flat_map(|of| &of.systems).flat_map(|(_, checks)| checks).collect();
    assert!(checks.len() > 150, "{} checks", checks.len());
    for (name, paper) in [("a4", A4), ("letter", LETTER)] {
        let pdf = app.print(paper);
        std::fs::write(shots().join(format!("blank-{name}.pdf")), &pdf).expect("the print can be kept to be looked at");
        let print = Print::read(&pdf);
        print.is_on(paper);
        eprintln!("the blank sheet on {name}: {} pages", print.pages.len());
        assert!(print.pages.len() <= 20, "{} pages are too many to carry", print.pages.len());
        let whole = print.whole();
        let mut rest = whole.as_str();
        for check in &checks {
            let name = squeezed(&check.name);
            let at = rest.find(&name).unwrap_or_else(|| panic!("“{}” is not on paper, or too early", check.name));
            rest = &rest[at + name.len()..];
            for reading in &check.readings {
                let line = rest.split_once(&squeezed(&reading.name)).map(|(_, line)| line);
                let line = line.unwrap_or_else(|| panic!("“{}” cannot be written down", reading.name));
                for (label, unit) in &reading.fields {
                    assert!(line.contains(&squeezed(&format!("{label}{unit}"))), "{}: {label}, {unit}", reading.name);
                }
                for (label, limits) in &reading.limits {
                    assert!(
                        line.contains(&squeezed(&format!("{label} {limits}"))),
                        "{}: {label} {limits}",
                        reading.name
                    );
                }
            }
        }
        for of in &stages {
            for caution in &of.cautions {
                assert!(whole.contains(&squeezed(caution.sentence())), "“{}” is missing", caution.sentence());
            }
        }
        assert!(
            !whole.contains(&squeezed("Skip to the worksheet")) && !whole.contains("Undo"),
            "no control is for paper"
        );
        let cut = |check: &&&BlankCheck| {
            let (name, right) = (squeezed(&check.name), squeezed(&check.right));
            !print.pages.iter().any(|page| page.split_once(&name).is_some_and(|(_, rest)| rest.contains(&right)))
        };
        assert_eq!(checks.iter().find(cut).map(|check| &check.name), None, "a check is cut in two");
    }
    app.as_printed(true);
    let boxes = "return [...document.querySelectorAll('.blank .line')].filter((line) =>
        [...line.querySelectorAll('.boxes > .tally')].filter((box) => box.getBoundingClientRect().height >= 14).length !== 6).length";
    assert_eq!(app.run(boxes, &[]), 0, "each check has its six boxes, large enough for a pen");
    let coloured =
        "const grey = (colour) => { const [r, g, b] = colour.match(/\\d+/g) ?? []; return r === g && g === b };
        return [...document.querySelectorAll('.blank, .blank *')].filter((it) => {
            const { color, backgroundColor, borderBlockEndColor, stroke } = getComputedStyle(it);
            return ![color, backgroundColor, borderBlockEndColor, stroke].every(grey);
        }).length";
    assert_eq!(app.run(coloured, &[]), 0, "paper is black, white and grey");
    app.as_printed(false);
    app.clean();
}
