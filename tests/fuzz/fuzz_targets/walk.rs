#![no_main]

libfuzzer_sys::fuzz_target!(|data: &[u8]| {
    slabwalk_fuzz::checks::walk(data);
});
