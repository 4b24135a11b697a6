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
        link: "r1uwWzFUQUTwETTwFcuV8AYV8FXZ9UYl-hCWTDAmABX_0IEgHkXp9aYE9JYz8JEuQHtBwAHgAdPBufIQEyAo1Qb3JyaWRnZSBib3dsCbKfAZ-QASOfJAS6EJ8cDk9RC58aDU_xBH8QCk-xBg8_CRFPAQxPURLkBrpIABdP8QUWTwFJT7EBGQAanx9Hok9RT3EYT_EjSgCAAT8tCLQiT_EFHz8JIF_BDyFP8QcDnxU2tzxPITpPITfFAw4AQE8hT5EBT_EBT9ECOQEQOABPsQFPgQJP4QJPiQNPkQM7TxE9xAsQAZ8cDgBPSU9JT2lPKUIBQH8BEEMBED8CDJ82nzVBAUBEAKEwoTCiMjChMA8BPwkRAV_JBEAAMDIwMmugPqLk7ycYpw",
    },
    Example {
        word: "lantern_vase",
        link: "r1vQWzFUQUTwETTwFcuV8AYV8FXZ9UYl-hCWTDAmABTwkSAe8RXp9YYE85Yz8JEu8RULhWX6FtVV_5JlRf4S5TX5EfVwBYn0lSX5lGUV-RHwe0HAAeAB08G58hATICjExhbnRlcm4gdmFzZQmynwGfkAEjnySBAbOEAcYJiQEBoCEAT_EvT_EnT_EjT_EXT_EjT_EXhwECPDQyGQEAiAEBnx-FAQGff2AAT3FPsQFPcU-xAU9xT7EBhgEAT_EFT_EGT_EET_EDT_EDT_EEEgIq7xHvPu9FggGffIMBTxEEuhCfHA5PUQufGg1PsQZ_EApP8QcPPwkRTwEMT1ES7xEGukhP8QUXT_EFFk8BSU9xGV_dDhqfH0ekTzFPUU9xT5EBGE_xI0pP8Q-AAT8tCLQiT_EFHz8JIF_BDyFP8QcDnxU2tzxPMTpPKTfHAw4AQE9xT7EDT7EFT_EHT9EJT_EKOQEQOABPkQJPwQJP0QNP8QNPgQNPkQJPsQI7Txk9zwALEAGfHA4CRgxPSXAyMzMzM5MsQE8BT4kBT3lPAU9JTylPiQFPcUICvn5ATxFAfwEQQwLOfBAgECAQPwGfNUEBQEQCyDyhMKEyoTChNKEwoTTUAQGhNA8BPxERAV_JBEAAMDIwMjQyNDI0Njg6PD4_AWvCDXMBAHEBn2hhAWpsAT5yAEBfhSNvAV_fNBYBTwFwAJ9mn2d0AZ9sbgE_AXUBn21tAT8BEgEyPqPvEe8-70Xe3w",
    },
];
