//! QR codes, drawn from their path as a browser would and read by `rqrr`.

/// Pixels a module.
const SCALE: usize = 3;

/// What a code says: the data of its SVG path, and the side of its view box in modules.
///
/// # Panics
/// When it is not drawn as core draws codes, or cannot be read as one code.
#[must_use]
#[track_caller]
pub fn read(path: &str, size: i32) -> String {
    let dark = drawn(path, usize::try_from(size).expect("a code has a size"));
    let side = dark.len() * SCALE;
    let is_dark = |x: usize, y: usize| dark.get(y / SCALE).and_then(|row| row.get(x / SCALE)) == Some(&true);
    let mut picture = rqrr::PreparedImage::prepare_from_bitmap(side, side, is_dark);
    let [grid] = &picture.detect_grids()[..] else { panic!("not one code is seen") };
    grid.decode().expect("the code can be read").1
}

/// Which modules the path makes dark.
fn drawn(path: &str, side: usize) -> Vec<Vec<bool>> {
    let mut dark = vec![vec![false; side]; side];
    for part in path.split_terminator('z') {
        let run = run(part).unwrap_or_else(|| panic!("“{part}” is no run of dark modules"));
        let row = dark.get_mut(run.y).and_then(|row| row.get_mut(run.x..run.x + run.length));
        row.unwrap_or_else(|| panic!("“{part}” lies outside the box")).fill(true);
    }
    dark
}

struct Run {
    x: usize,
    y: usize,
    length: usize,
}

/// `M4 4h7v1h-7`: seven modules to the right of the fourth in the fourth row.
fn run(part: &str) -> Option<Run> {
    let (at, run) = part.strip_prefix('M')?.split_once('h')?;
    let (x, y) = at.split_once(' ')?;
    let (length, back) = run.split_once("v1h-")?;
    (length == back).then_some(())?;
    Some(Run { x: x.parse().ok()?, y: y.parse().ok()?, length: length.parse().ok()? })
}
