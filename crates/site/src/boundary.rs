//! The way in and out for JavaScript: numbers, and places in memory.
//!
//! Whoever asks takes [`room`] for a name and a body, writes them there, and calls
//! [`answer`], which takes both back; what it returns stays until it is [`forget`]ten.
//! Nothing is shared: a piece of memory has one owner at a time, and crosses over whole.
//! WebAssembly is called by one thread, one call after the other.

#![expect(
    unsafe_code,
    reason = "memory is handed over by its address; each place says why it may be taken"
)]

use std::sync::{Mutex, OnceLock};

use page::Answer;

use crate::{Held, Outcome, ask};

/// What was told, as JavaScript reads it: six numbers one after the other.
#[repr(C)]
#[derive(Debug)]
pub struct Written {
    status: usize,
    missed: usize,
    kind: *const u8,
    kind_length: usize,
    bytes: *mut u8,
    bytes_length: usize,
}

fn held() -> &'static Mutex<Held> {
    static HELD: OnceLock<Mutex<Held>> = OnceLock::new();
    HELD.get_or_init(|| {
        // A question that breaks off ends the instance: what it was is for the log.
        std::panic::set_hook(Box::new(|broken| {
            *WHY.lock().unwrap_or_else(|other| other.into_inner()) = broken.to_string();
        }));
        Mutex::default()
    })
}

/// Why a question broke off.
static WHY: Mutex<String> = Mutex::new(String::new());

/// Why the question broke off that was asked last, in words for whoever mends the program.
#[unsafe(no_mangle)]
pub extern "C" fn why() -> *mut Written {
    let why = WHY.lock().unwrap_or_else(|other| other.into_inner());
    written(Outcome {
        status: 500,
        missed: 0,
        answer: Answer {
            kind: "text/plain",
            bytes: why.clone().into_bytes(),
        },
    })
}

fn written(told: Outcome) -> *mut Written {
    let Outcome {
        status,
        missed,
        answer,
    } = told;
    let bytes_length = answer.bytes.len();
    let bytes = Box::into_raw(answer.bytes.into_boxed_slice()).cast();
    Box::into_raw(Box::new(Written {
        status: status.into(),
        missed: missed.into(),
        kind: answer.kind.as_ptr(),
        kind_length: answer.kind.len(),
        bytes,
        bytes_length,
    }))
}

/// Room for so many bytes, all zero, for one argument of [`answer`].
#[unsafe(no_mangle)]
pub extern "C" fn room(length: usize) -> *mut u8 {
    Box::into_raw(vec![0_u8; length].into_boxed_slice()).cast()
}

/// Takes back what [`room`] gave.
///
/// # Safety
/// `start` and `length` are those of one call of [`room`], and nobody uses them again.
unsafe fn taken(start: *mut u8, length: usize) -> Vec<u8> {
    let slice = std::ptr::slice_from_raw_parts_mut(start, length);
    // SAFETY: `room` made this very slice by `Box::into_raw`, and by the condition above
    // this is the one time it is made a box again.
    unsafe { Box::from_raw(slice) }.into_vec()
}

/// Answers a question, at a time in seconds since the beginning of 1970.
///
/// # Safety
/// `name` and `body` are places that [`room`] gave for these lengths, written full; they
/// belong to this function from now on.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn answer(
    name: *mut u8,
    name_length: usize,
    body: *mut u8,
    body_length: usize,
    now_unix_s: f64,
) -> *mut Written {
    // SAFETY: the caller's condition is that of `taken`.
    let (name, body) = unsafe { (taken(name, name_length), taken(body, body_length)) };
    let name = String::from_utf8_lossy(&name);
    // A question that broke off ends the whole instance, so that none is poisoned.
    let mut held = held().lock().unwrap_or_else(|broken| broken.into_inner());
    written(ask(&mut held, &name, body, now_unix_s))
}

/// Lets go of what [`answer`] returned.
///
/// # Safety
/// `written` is what one call of [`answer`] returned, and nobody uses it again.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn forget(written: *mut Written) {
    // SAFETY: `answer` made it by `Box::into_raw`, and its bytes as `room` makes them.
    unsafe {
        let written = Box::from_raw(written);
        drop(taken(written.bytes, written.bytes_length));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn put(text: &[u8]) -> (*mut u8, usize) {
        let start = room(text.len());
        // SAFETY: there is room for so many bytes.
        unsafe { std::ptr::copy_nonoverlapping(text.as_ptr(), start, text.len()) };
        (start, text.len())
    }

    #[test]
    fn a_question_goes_over_and_its_answer_comes_back() {
        let case = br#"{"when":"2024-05-14 09:20","at":"42.8806,-8.5449","zone":"Europe/Madrid"}"#;
        for (name, body, status) in [
            ("cast", &case[..], 200),
            ("cast", b"{}", 422),
            ("start", b"", 200),
            ("no such question", b"", 404),
        ] {
            let ((name, name_length), (body, body_length)) = (put(name.as_bytes()), put(body));
            // SAFETY: both places are `room`'s, and what comes back is let go of once.
            unsafe {
                let written = answer(name, name_length, body, body_length, 1.7e9);
                let told = &*written;
                assert_eq!(told.status, status);
                let bytes = std::slice::from_raw_parts(told.bytes, told.bytes_length);
                let answered: serde_json::Value =
                    serde_json::from_slice(bytes).expect("answers are JSON");
                assert!(answered.is_object());
                forget(written);
            }
        }
    }
}
