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

/// Every example, the simple one first.
pub const ALL: &[Example] = &[
    Example {
        word: "porridge_bowl",
        link: "r1ugWzFUQUTwETTwEHtBwAHgAdPBufIQEyAo1Qb3JyaWRnZSBib3dsCbEjnyQEuRCfHA5PUQufGg1P8QQKT7EGDz8JEU8BDE9REuQGuUgAF0_xBRZPAUlPsQEZABqfH0eiT1FPcRhP8SNKAAi0Ik_xBR8_CSBfwQ8hT_EHA58VNrY8TyE6TyE3xQMOAEBPIU-RAU_xAU_RAjkBEDgAT7EBT4ECT-ECT4kDT5EDO08RPcQKEAGfHA4AT0lPSU9pTylCAUBDARA_AgyfNp81QQFARAChMKEwojIwoTAPAT8JEQFfyQRAADAyMDI-ouTvJx6_",
    },
    Example {
        word: "lantern_vase",
        link: "r1ugWzFUQUTwETTwEHtBwAHgAdPBufIQEyAoxMYW50ZXJuIHZhc2UJsSOfJAS5EJ8cDk9RC58aDU-xBgpP8QcPPwkRTwEMT1ES7xEGuUhP8QUXT_EFFk8BSU9xGV_dDhqfH0ekTzFPUU9xT5EBGE_xI0pP8Q8ItCJP8QUfPwkgX8EPIU_xBwOfFTa2PE8xOk8pN8cDDgBAT3FPsQNPsQVP8QdP0QlP8Qo5ARA4AE-RAk_BAk_RA0_xA0-BA0-RAk-xAjtPGT3PAAoQAZ8cDgJGDE9JcDIzMzMzkyxATwFPiQFPeU8BT0lPKU-JAU9xQgFAQwLOfBAgECAQPwL8f582nzVBAUBEAsg8oTChMqEwoTShMKE01AEBoTQPAT8REQFfyQRAADAyMDI0MjQyNDY4Ojw-PwE-o-8R7z7vRSjo",
    },
];
