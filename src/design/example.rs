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
        link: "r1uwWzFUQUTwETTwFcuV8AYV8FXZ9UYl-hCWTDAmAATwFPAXCamZmZmTkmQBIB5F6fWmBPSWM_CRLkB7QcAB4AHTwbnyEBMgKNUG9ycmlkZ2UgYm93bAmxI58kBLkQnxwOT1ELnxoNT_EECk-xBg8_CRFPAQxPURLkBrpIABdP8QUWTwFJT7EBGQAanx9Hok9RT3EYT_EjSgCAAT8tCLQiT_EFHz8JIF_BDyFP8QcDnxU2tzxPITpPITfFAw4AQE8hT5EBT_EBT9ECOQEQOABPsQFPgQJP4QJPiQNPkQM7TxE9xAsQAZ8cDgBPSU9JT2lPKUIBQH8BEEMBED8CDJ82nzVBAUBEAKEwoTCiMjChMA8BPwkRAV_JBEAAMDIwMmugPqLk7ye7TA",
    },
    Example {
        word: "lantern_vase",
        link: "r1vQWzFUQUTwETTwFcuV8AYV8FXZ9UYl-hCWTDAmABTwkSAe8RXp9YYE85Yz8JEu8RULhWX6FtVV_5JlRf4S5TX5EfVwBYn0lSX5lGUV-RHwe0HAAeAB08G58hATICjExhbnRlcm4gdmFzZQmxI58kgQGzhAHJCYkBAaAhAmABT_EvT_EnT_EjT_EXT_EjT_EXhwECPAE0MjQyGQEAiAEBnx-FAQLeAJ9_n4ABn39gAE9xT7EBT3FPsQFPcU8RTzFPMU-xAYYBAE_xBU_xBk_xBE_xA0_xA0_xAk_xA0_xAk_xBBICKgDvEe8-70XvEe8-70WCAZ98gwFPEQS5EJ8cDk9RC58aDU-xBgpP8QcPPwkRTwEMT1ES7xEGukhP8QUXT_EFFk8BSU9xGV_dDhqfH0elTwlPMU9RT3FPkQEYT_EjSk_xD4ABPy0ItCJP8QUfPwkgX8EPIU_xBwOfFTa3PE85Ok8pN8cDDgBAT3FPsQNPsQVP8QdP0QlP8Qo5ARA4AE-RAk_BAk_RA0_xA0-BA0-RAk-xAjtPGT3PAAsQAZ8cDgJGDE9JcDIzMzMzkyxATwFPiQFPeU8BT0lPKU-JAU9xQgK-fkBPEUB_ARBDAs58ECAQIBA_AZ81QQFARALIPKEwoTKhMKE0oTChNNQBAaE0DwE_EREBX8kEQAAwMjAyNDI0MjQ2ODo8Pj8Ba8INcwEAcQGfaGEBamwBPnIAQF-FI28BX980FgFPAXAAn2afZ3QBn2xuAT8BdQGfbW0BPwESATI-o-8R7z7vRaIT",
    },
];
