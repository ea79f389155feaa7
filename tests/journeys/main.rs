//! A browser uses the built page as the people of the brief do. Needs `dist`: `sh .ci/build` first.

mod smoke;
