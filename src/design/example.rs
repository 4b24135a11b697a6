//! Designs of our own to look at and to begin from: kept as links, which are short and
//! open as any other. `tests/examples/` holds them as files.

/// An example.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Example {
    /// The word for it.
    pub word: &'static str,
    /// Its design's name.
    pub name: &'static str,
    /// Its link.
    pub link: &'static str,
}

/// Every example, the simple one first, the second with all that a design can hold but an open
/// wall, which the third has.
pub const ALL: &[Example] = &[
    Example {
        word: "porridge_bowl",
        name: "Porridge bowl",
        link: "r1uwWzFUQUTwETTwFcuV8AYWhdn1RiX6EJZMMCYABPAU8BcJqZmZmZOSZAEgHkXp9aYE9JYz8JEuQHtBwAHgAdPBufIQEyAo1Qb3JyaWRnZSBib3dsCbEjnyQEuRCfHA5PUQufGg1P8QQKT7EGDz8JEU8BDE9REuQGukgAF0_xBRZPAUlPsQEZABqfH0eiT1FPcRhP8SNKAIABPy0ItCJP8QUfPwkgX8EPIU_xBwOfFTa3PE8hOk8hN8UDDgBATyFPkQFP8QFP0QI5ARA4AE-xAU-BAk_hAk-JA0-RAztPET3ECxABnxwOAE9JT0lPaU8pQgFAfwEQQwEQPwIMnzafNUEBQEQAoTChMKIyMKEwDwE_CREBX8kEQAAwMjAya6A-ouTvJ8bJ",
    },
    Example {
        word: "lantern_vase",
        name: "Lantern vase",
        link: "r1vQWzFUQUTwETTwFcuV8AYWhdn1RiX6EJZMMCYAFPCRIB7xFen1hgTzljPwkS7xFQuFZfoW1VX_kmVF_hLlNfkR9XAFifSVJfmUZRX5EfB7QcAB4AHTwbnyEBMgKMTGFudGVybiB2YXNlCbEjnySBAbOEAckJiQEBoCECYAFP8S9P8SdP8SNP8RdP8SNP8ReHAQI8ATQyNDIZAQCIAQGfH4UBAt4An3-fgAGff2AAT3FPsQFPcU-xAU9xTxFPMU8xT7EBhgEAT_EFT_EGT_EET_EDT_EDT_ECT_EDT_ECT_EEEgIqAO8R7z7vRe8R7z7vRYIBn3yDAU8RBLkQnxwOT1ELnxoNT7EGCk_xBw8_CRFPAQxPURLvEQa6SE_xBRdP8QUWTwFJT3EZX90OGp8fR6VPCU8xT1FPcU-RARhP8SNKT_EPgAE_LQi0Ik_xBR8_CSBfwQ8hT_EHA58VNrc8Tzk6Tyk3xwMOAEBPcU-xA0-xBU_xB0_RCU_xCjkBEDgAT5ECT8ECT9EDT_EDT4EDT5ECT7ECO08ZPc8ACxABnxwOAkYMT0lwMjMzMzOTLEBPAU-JAU95TwFPSU8pT4kBT3FCAr5-QE8RQH8BEEMCznwQIBAgED8BnzVBAUBEAsg8oTChMqEwoTShMKE01AEBoTQPAT8REQFfyQRAADAyMDI0MjQyNDY4Ojw-PwFrwg1zAQBxAZ9oYQFqbAE-cgBAX4UjbwFf3zQWAU8BcACfZp9ndAGfbG4BPwF1AZ9tbQE_ARIBMj6j7xHvPu9FxVg",
    },
    Example {
        word: "lattice_vase",
        name: "Lattice vase",
        link: "r1uwWzFUQUTwETTwFcuV8AYWhdn1RiTxFkwwJgAE8BTwFPMRIB7xFen1pgX9MdYz8BEu8RB7QcAB4AHTwbnyEBMgKMTGF0dGljZSB2YXNlCbEjnyQEuRCfHA5PUQufGg1PsQgKT_EJDz8JEU8BDE9REu8RBrpIABdP8QUWTwFJX9MdGQAanx9Hok9RT3EYT_EjSgCAAT8tCLQiT_EFHz8JIF_BDyFP8QcDnxU2tzxwzczMzMwMI0A6TzE3xwMOAEBPUU-RAk-RBU_xB0-xCU-xCjkBEDgAT-ECT7EDT7EET5EFT9EET6EET7EEO3DNzMzMzAwjQD3MDhAC9gefHJ8enxxyAg4AQF_ZB1_BD0BfkR9f-SZAX8k2QOQBAvYHn9UBn9YBn9UB6AEC9gdf2QdfnQJf2QcOAvAPX9MdT0FPSU9pQgFAfwEQQwEQPwL8D582nzVBAUBEAvIHoTChMtQBCKEyDwL2Bz8JPyE_CREBTwFAAjgBMDIwNDA4MDJroD6i7xHvQFst",
    },
];
