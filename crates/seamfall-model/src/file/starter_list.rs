//! The files of the starter set, in the order of the alphabet. A test compares the list with the folder.

macro_rules! starter {
    ($($key:literal)*) => {
        /// Key and text of every starter block.
        pub(super) const STARTER: &[(&str, &str)] =
            &[$(($key, include_str!(concat!("../../starter/", $key, ".toml")))),*];
    };
}

starter! {
    "churn-dash"
}
