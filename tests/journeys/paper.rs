//! The report of the demonstration on paper, A4 and Letter: printed by the browser and read back by a library that knows nothing
//! of the page.

use kerbworth_core::hand_over::{Block, Document, Kind, report::report};
use kerbworth_core::show::Show;
use kerbworth_tests::app::App;
use kerbworth_tests::browser::{A4, DARK, DESK, LETTER, Paper};
use kerbworth_tests::dist::shots;
use kerbworth_tests::document::{lines, of_block};

/// What belongs to the screen and not to the report.
const CONTROLS: [&str; 7] =
    ["Copy as text", "Save as text", "Send as a link", "Save as a file", "Skip to the worksheet", "Hand over", "Undo"];

/// What has to be in a report that is to stand on its own, beside all that core writes.
const PARTS: [&str; 6] =
    ["Worth as it stands", "Findings", "Limiting conditions", "Cautions", "Statement", "Signature"];

#[test]
fn the_report_is_whole_on_either_paper() {
    let app = App::open(DESK);
    app.demo();
    // Paper is white, whatever the screen is.
    app.prefer(DARK);
    app.to("#/hand-over", "Hand over");
    app.document(Kind::Report);
    app.css(".document .signing");
    app.until("the photographs are drawn", || {
        let waiting = "return [...document.querySelectorAll('.document img')].filter((it) => !it.complete).length";
        (app.run(waiting, &[]) == 0).then_some(())
    });
    let twin = app.twin();
    let report = report(twin.case());
    for (name, paper) in [("a4", A4), ("letter", LETTER)] {
        let pdf = app.print(paper);
        std::fs::write(shots().join(format!("report-{name}.pdf")), &pdf)
            .expect("the print can be kept to be looked at");
        let print = Print::read(&pdf);
        eprintln!("the demonstration's report on {name}: {} pages", print.pages.len());
        print.is_on(paper);
        assert!((6..=30).contains(&print.pages.len()), "{} pages", print.pages.len());
        print.says(&report, &twin.show);
        for part in PARTS {
            assert!(print.whole().contains(&squeezed(part)), "“{part}” is in the report");
        }
        for control in CONTROLS {
            assert!(!print.whole().contains(&squeezed(control)), "“{control}” is not for paper");
        }
        print.cuts_nothing(&report, &twin.show);
    }
    app.clean();
}

/// A printed document, read back.
pub struct Print {
    /// Width and height of each page, in points.
    sizes: Vec<[f64; 2]>,
    /// What each page says, without spaces and its number.
    pub pages: Vec<String>,
}

impl Print {
    /// Reads it; each page bears its number and how many there are.
    #[track_caller]
    pub fn read(pdf: &[u8]) -> Self {
        let document = lopdf::Document::load_mem(pdf).expect("the print is a PDF");
        let numbers = document.get_pages();
        let count = numbers.len();
        let sizes = numbers.values().map(|page| size(&document, *page)).collect();
        let text = |number: &u32| {
            let text = squeezed(&document.extract_text(&[*number]).expect("the page has text that can be read"));
            let mark = format!("{number}/{count}");
            let without = text.strip_suffix(&mark).or_else(|| text.strip_prefix(&mark));
            without.unwrap_or_else(|| panic!("page {number} does not bear “{mark}”: {text}")).to_owned()
        };
        Self { sizes, pages: numbers.keys().map(text).collect() }
    }

    #[track_caller]
    pub fn is_on(&self, Paper { width, height }: Paper) {
        for [wide, high] in &self.sizes {
            let off = (wide - 72.0 * width).abs().max((high - 72.0 * height).abs());
            assert!(off <= 1.0, "a page of {wide} × {high} points on paper of {width} × {height} inches");
        }
    }

    pub fn whole(&self) -> String {
        self.pages.concat()
    }

    /// All that core's document says is there, in its order.
    #[track_caller]
    fn says(&self, document: &Document, show: &Show) {
        let whole = self.whole();
        let mut rest = whole.strip_prefix(&squeezed(&document.title)).expect("the print begins with the title");
        for line in lines(document, show) {
            let found = rest.find(&squeezed(&line)).unwrap_or_else(|| panic!("“{line}” is not on paper, or too early"));
            rest = rest.get(found..).and_then(|it| it.get(squeezed(&line).len()..)).unwrap_or_default();
        }
    }

    /// No row of a table and no finding is cut in two by the end of a page, each page of a table bears its heads, and the
    /// signatures stand on the page of the statement.
    #[track_caller]
    fn cuts_nothing(&self, document: &Document, show: &Show) {
        let pages_of = |text: &str| {
            let on = |(place, page): (usize, &String)| page.contains(text).then_some(place);
            self.pages.iter().enumerate().filter_map(on).collect::<Vec<_>>()
        };
        let mut parted = 0;
        for block in &document.blocks {
            match block {
                Block::Table(table) => {
                    let heads = pages_of(&squeezed(&table.head.concat()));
                    for row in &table.rows {
                        let on = pages_of(&squeezed(&row.concat()));
                        assert!(!on.is_empty(), "a row of “{}” is cut: {row:?}", table.caption);
                        assert!(on.iter().any(|page| heads.contains(page)), "above {row:?} stands no head");
                    }
                    parted += usize::from(heads.len() > 1);
                }
                Block::Finding(finding) => {
                    let lines = of_block(block, show);
                    let (last, name) = (lines.last().expect("a finding has a name"), squeezed(&finding.name));
                    let whole = |page: &String| {
                        page.split_once(&name)
                            .is_some_and(|(_, rest)| lines.len() == 1 || rest.contains(&squeezed(last)))
                    };
                    assert!(self.pages.iter().any(whole), "“{}” is cut", finding.name);
                }
                Block::SignatureLines(names) => {
                    let signed = |page: &String| {
                        page.contains("StatementThecarwaslookedatby")
                            && names.iter().all(|it| page.contains(&squeezed(it)))
                    };
                    assert!(
                        self.pages.iter().any(signed),
                        "what is signed does not stand on the page of the statement"
                    );
                }
                _ => {}
            }
        }
        assert!(parted > 0, "no table goes over a page's end: nothing was tried");
    }
}

/// A text without its spaces, letters that were set as one told apart: how lines are broken and set on paper is of no account.
pub fn squeezed(text: &str) -> String {
    let set_as_one =
        [("\u{fb00}", "ff"), ("\u{fb01}", "fi"), ("\u{fb02}", "fl"), ("\u{fb03}", "ffi"), ("\u{fb04}", "ffl")];
    let text: String = text.split_whitespace().collect();
    set_as_one.iter().fold(text, |text, (one, several)| text.replace(one, several))
}

/// The page's box, its own or that of the pages that it is one of.
#[track_caller]
fn size(document: &lopdf::Document, page: lopdf::ObjectId) -> [f64; 2] {
    let mut node = document.get_dictionary(page).expect("a page is a dictionary");
    while !node.has(b"MediaBox") {
        let parent = node.get(b"Parent").and_then(lopdf::Object::as_reference).expect("some page has a size");
        node = document.get_dictionary(parent).expect("pages are a dictionary");
    }
    let sides = node.get(b"MediaBox").and_then(lopdf::Object::as_array).expect("a box is an array");
    let sides: Vec<f64> = sides.iter().filter_map(|side| side.as_float().ok()).map(f64::from).collect();
    let [left, bottom, right, top] = sides[..] else { panic!("a box has four sides: {sides:?}") };
    [right - left, top - bottom]
}
