//! Which screen the address shows. The fragment holds it, so that any static host serves every screen.

use kerbworth_core::sheet::Stage;

/// A screen.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub enum Screen {
    /// All worksheets.
    #[default]
    Shelf,
    /// The car's identity and the occasion.
    Car,
    /// Checks of a stage.
    Checks(Stage),
    /// What to look at next, and the plan for the minutes there are.
    Plan,
    /// The truth table of lamps.
    Lamps,
    /// Departures from how the car was made.
    Departures,
    /// Comparable sales and the grid.
    Sales,
    /// Score, costs, worth, bid.
    Worth,
    /// Report, listing, bargaining sheet, files.
    HandOver,
    /// The checks as a blank sheet of paper, to be filled in by pen.
    Blank,
    /// A worksheet that came as a link, read only.
    Received(String),
    /// Several worksheets side by side.
    Compare,
    /// The ledger of sales that all worksheets share.
    Ledger,
    /// Type sheets, or one of them opened for editing.
    Sheets(Option<String>),
    /// Units, language, look.
    Settings,
}

/// What stands in the address before a link's own letters.
pub const LINK: &str = "#/link/";

/// The fragment's word for a stage.
fn stage_word(stage: Stage) -> &'static str {
    match stage {
        Stage::Papers => "papers",
        Stage::WalkRound => "walk-round",
        Stage::Underneath => "underneath",
        Stage::Cabin => "cabin",
        Stage::StartUp => "start-up",
        Stage::RoadTest => "road-test",
        Stage::AfterDrive => "after-drive",
    }
}

impl Screen {
    /// The screen that a fragment names; the shelf if it names none.
    pub fn of(fragment: &str) -> Self {
        let path = fragment.trim_start_matches('#').trim_matches('/');
        let (first, rest) = path.split_once('/').map_or((path, None), |(first, rest)| (first, Some(rest)));
        match (first, rest) {
            ("car", None) => Self::Car,
            ("checks", None) => Self::Checks(Stage::Papers),
            ("checks", Some(word)) => {
                Stage::ALL.into_iter().find(|stage| stage_word(*stage) == word).map_or(Self::Shelf, Self::Checks)
            }
            ("plan", None) => Self::Plan,
            ("lamps", None) => Self::Lamps,
            ("departures", None) => Self::Departures,
            ("sales", None) => Self::Sales,
            ("worth", None) => Self::Worth,
            ("hand-over", None) => Self::HandOver,
            ("on-paper", None) => Self::Blank,
            ("link", Some(link)) => Self::Received(link.to_owned()),
            ("compare", None) => Self::Compare,
            ("ledger", None) => Self::Ledger,
            ("sheets", id) => Self::Sheets(id.map(ToOwned::to_owned)),
            ("settings", None) => Self::Settings,
            _ => Self::Shelf,
        }
    }

    /// The fragment that names the screen.
    pub fn fragment(&self) -> String {
        match self {
            Self::Shelf => "#/".to_owned(),
            Self::Car => "#/car".to_owned(),
            Self::Checks(stage) => format!("#/checks/{}", stage_word(*stage)),
            Self::Plan => "#/plan".to_owned(),
            Self::Lamps => "#/lamps".to_owned(),
            Self::Departures => "#/departures".to_owned(),
            Self::Sales => "#/sales".to_owned(),
            Self::Worth => "#/worth".to_owned(),
            Self::HandOver => "#/hand-over".to_owned(),
            Self::Blank => "#/on-paper".to_owned(),
            Self::Received(link) => format!("{LINK}{link}"),
            Self::Compare => "#/compare".to_owned(),
            Self::Ledger => "#/ledger".to_owned(),
            Self::Sheets(None) => "#/sheets".to_owned(),
            Self::Sheets(Some(id)) => format!("#/sheets/{id}"),
            Self::Settings => "#/settings".to_owned(),
        }
    }

    /// Whether it is about the worksheet that is open.
    pub const fn needs_worksheet(&self) -> bool {
        !matches!(
            self,
            Self::Shelf | Self::Received(_) | Self::Compare | Self::Ledger | Self::Sheets(_) | Self::Settings
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_screen_is_found_by_its_own_fragment() {
        let mut screens = vec![
            Screen::Shelf,
            Screen::Car,
            Screen::Plan,
            Screen::Lamps,
            Screen::Departures,
            Screen::Sales,
            Screen::Worth,
            Screen::HandOver,
            Screen::Blank,
            Screen::Received("AQx_-9".to_owned()),
            Screen::Compare,
            Screen::Ledger,
            Screen::Sheets(None),
            Screen::Sheets(Some("wexcombe-curlew-1500".to_owned())),
            Screen::Settings,
        ];
        screens.extend(Stage::ALL.map(Screen::Checks));
        for screen in screens {
            assert_eq!(Screen::of(&screen.fragment()), screen);
        }
    }

    #[test]
    fn what_names_nothing_is_the_shelf() {
        for fragment in ["", "#", "#/", "#/nowhere", "#/checks/attic", "#/car/boot", "\u{0}"] {
            assert_eq!(Screen::of(fragment), Screen::Shelf, "{fragment:?}");
        }
    }
}
