//! Designs of our own to look at and to begin from: kept as links, which are short and
//! open as any other. `tests/examples/` holds them as files.

/// An example.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Example {
    /// The word for it.
    pub word: &'static str,
    /// Its link.
    pub link: &'static str,
}

/// Every example, the simple one first, the other with all that a design can hold.
pub const ALL: &[Example] = &[
    Example {
        word: "porridge_bowl",
        link: "r1uwWzFUQUTwETTwFcuV8AYV8FXZ9UYl-hCWTDAmABX_0IEgHkXp9aYE9JYz8JEuQHtBwAHgAdPBufIQEyAo1Qb3JyaWRnZSBib3dsCbEjnyQEuRCfHA5PUQufGg1P8QQKT7EGDz8JEU8BDE9REuQGukgAF0_xBRZPAUlPsQEZABqfH0eiT1FPcRhP8SNKAIABPy0ItCJP8QUfPwkgX8EPIU_xBwOfFTa3PE8hOk8hN8UDDgBATyFPkQFP8QFP0QI5ARA4AE-xAU-BAk_hAk-JA0-RAztPET3ECxABnxwOAE9JT0lPaU8pQgFAfwEQQwEQPwIMnzafNUEBQEQAoTChMKIyMKEwDwE_CREBX8kEQAAwMjAya6A-ouTvJ2OK",
    },
    Example {
        word: "lantern_vase",
        link: "r1vQWzFUQUTwETTwFcuV8AYV8FXZ9UYl-hCWTDAmABTwkSAe8RXp9YYE85Yz8JEu8RULhWX6FtVV_5JlRf4S5TX5EfVwBYn0lSX5lGUV-RHwe0HAAeAB08G58hATICjExhbnRlcm4gdmFzZQmxI58kgQGzhAHJCYkBAaAhAmABT_EvT_EnT_EjT_EXT_EjT_EXhwEC_AE0MhkBAIgBAZ8fhQEC3gCff5-AAZ9_YABPcU-xAU9xT7EBT3FPEU8xTzFPsQGGAQBP8QVP8QZP8QRP8QNP8QNP8QJP8QNP8QJP8QQSAioA7xHvPu9F7xHvPu9FggGffIMBTxEEuRCfHA5PUQufGg1PsQYKT_EHDz8JEU8BDE9REu8RBrpIT_EFF0_xBRZPAUlPcRlf3Q4anx9HpU8JTzFPUU9xT5EBGE_xI0pP8Q-AAT8tCLQiT_EFHz8JIF_BDyFP8QcDnxU2tzxPMTpPKTfHAw4AQE9xT7EDT7EFT_EHT9EJT_EKOQEQOABPkQJPwQJP0QNP8QNPgQNPkQJPsQI7Txk9zwALEAGfHA4CRgxPSXAyMzMzM5MsQE8BT4kBT3lPAU9JTylPiQFPcUICvn5ATxFAfwEQQwLOfBAgECAQPwGfNUEBQEQCyDyhMKEyoTChNKEwoTTUAQGhNA8BPxERAV_JBEAAMDIwMjQyNDI0Njg6PD4_AWvCDXMBAHEBn2hhAWpsAT5yAEBfhSNvAV_fNBYBTwFwAJ9mn2d0AZ9sbgE_AXUBn21tAT8BEgEyPqPvEe8-70WgCw",
    },
];
