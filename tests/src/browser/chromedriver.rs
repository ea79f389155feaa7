//! The packaged chromedriver, as a process of its own for each browser.

use std::ffi::OsStr;
use std::io::{BufRead, BufReader};
use std::process::{Child, Command, Stdio};
use std::{env, thread};

/// A running chromedriver. It is stopped when dropped.
pub(super) struct Chromedriver {
    process: Child,
    pub(super) address: String,
}

impl Chromedriver {
    #[track_caller]
    pub(super) fn start() -> Self {
        let program = env::var_os("KERBWORTH_CHROMEDRIVER").unwrap_or("chromedriver".into());
        // Where many start at once, the port that it found free may be taken before it listens there; then it ends.
        let started = (0..3).find_map(|_| Self::listening(&program));
        started.unwrap_or_else(|| panic!("{} did not say which port it took", program.display()))
    }

    /// One that listens; none if it ended before it did.
    #[track_caller]
    fn listening(program: &OsStr) -> Option<Self> {
        // Port 0: it takes a free one and says which.
        let started = Command::new(program).arg("--port=0").stdout(Stdio::piped()).stderr(Stdio::null()).spawn();
        let mut process = started.unwrap_or_else(|error| {
            panic!(
                "{} does not start ({error}): run `sh .ci/setup`, which installs it with Chromium",
                program.display()
            )
        });
        let mut said =
            BufReader::new(process.stdout.take().expect("its output is piped")).lines().map_while(Result::ok);
        let port =
            said.find_map(|line| line.strip_suffix('.')?.rsplit_once("successfully on port ")?.1.parse::<u16>().ok());
        let started = Self { process, address: format!("http://127.0.0.1:{}", port.unwrap_or_default()) };
        // Whatever else it says must be read, or it stops when the pipe is full.
        port.map(|_| thread::spawn(move || said.for_each(drop))).map(|_| started)
    }
}

impl Drop for Chromedriver {
    fn drop(&mut self) {
        // It may have ended by itself.
        let _ = self.process.kill();
        let _ = self.process.wait();
    }
}
