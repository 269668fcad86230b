#![no_main]
libfuzzer_sys::fuzz_target!(|given: &[u8]| rowlight_tests::hostile::meet_file(given));
