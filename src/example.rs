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
        link: "r1vQWzFUQUTwETTwFcuV8AYV8FXZ9UYl-hCWTDAmABTwkSAe8RXp9YYE85Yz8JEu8RULhWX6FtVV_5JlRf4S5TX5EfVwBYn0lSX5lGUV-RHwe0HAAeAB08G58hATICjExhbnRlcm4gdmFzZQmxI58kgQGzhAHJCYkBAaAhAmABT_EvT_EnT_EjT_EXT_EjT_EXhwEC_AE0MhkBAIgBAZ8fhQEC3gCff5-AAZ9_YABPcU-xAU9xT7EBT3FPEU8xTzFPsQGGAQBP8QVP8QZP8QRP8QNP8QNP8QJP8QNP8QJP8QQSAioA7xHvPu9F7xHvPu9FggGffIMBTxEEuRCfHA5PUQufGg1PsQYKT_EHDz8JEU8BDE9REu8RBrpIT_EFF0_xBRZPAUlPcRlf3Q4anx9HpE8xT1FPcU-RARhP8SNKT_EPgAE_LQi0Ik_xBR8_CSBfwQ8hT_EHA58VNrc8TzE6Tyk3xwMOAEBPcU-xA0-xBU_xB0_RCU_xCjkBEDgAT5ECT8ECT9EDT_EDT4EDT5ECT7ECO08ZPc8ACxABnxwOAkYMT0lwMjMzMzOTLEBPAU-JAU95TwFPSU8pT4kBT3FCAr5-QE8RQH8BEEMCznwQIBAgED8BnzVBAUBEAsg8oTChMqEwoTShMKE01AEBoTQPAT8REQFfyQRAADAyMDI0MjQyNDY4Ojw-PwFrwg1zAQBxAZ9oYQFqbAE-cgBAX4UjbwFf3zQWAU8BcACfZp9ndAGfbG4BPwF1AZ9tbQE_ARIBMj6j7xHvPu9Fk7k",
    },
];
