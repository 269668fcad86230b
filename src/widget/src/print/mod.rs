//! The printed sheet set: three scaled drawings, then figures, orders, advice, assumptions, workings.
//!
//! `@page` only counts at the top of a document and the host page must not show through, so the set
//! stands in a container of its own at the end of the body, filled only while something is printed. In
//! somebody else's page it stands in a shadow root, takes its style sheets along, and only its own button fills it.

mod sheets;

use crate::desk::{Desk, Refusal};
use crate::later;
use crate::saved::Broken;
use leptos::leptos_dom::helpers::window_event_listener_untyped;
use leptos::prelude::*;
use wasm_bindgen::JsValue;
use wasm_bindgen_futures::spawn_local;
use web_sys::{CssStyleSheet, Document, Element, Node, ShadowRootInit, ShadowRootMode};

/// The container's id, and the class the document carries while it is filled.
const CONTAINER: &str = "rowlight-print";
const PRINTING: &str = "rowlight-printing";

/// Prints the plan on the desk, as soon as what it takes has come.
pub(crate) fn open_print(desk: Desk) {
    if later::now().is_some() {
        return print(desk);
    }
    spawn_local(async move {
        let come = later::come().await;
        if desk.is_gone() {
            return;
        }
        if come {
            print(desk);
        } else {
            lack(desk, "The sheets could not be fetched. Print again; if it stays so, load the page again.");
        }
    });
}

fn print(desk: Desk) {
    desk.settle();
    // A browser that dropped the last print leaves its sheets behind.
    put_away();
    fill(desk);
    if let Some(window) = web_sys::window() {
        // A browser that forbids printing says so itself.
        let _ = window.print();
    }
}

/// Fills the sheet set whenever the page is printed, by whatever way, and clears it afterwards.
pub(crate) fn follow_print(desk: Desk) {
    let before = desk.alone.then(|| window_event_listener_untyped("beforeprint", move |_| fill(desk)));
    let after = window_event_listener_untyped("afterprint", |_| put_away());
    on_cleanup(move || {
        if let Some(before) = before {
            before.remove();
        }
        after.remove();
        put_away();
    });
}

fn document() -> Option<Document> {
    web_sys::window()?.document()
}

fn container(document: &Document) -> Option<Element> {
    if let Some(found) = document.get_element_by_id(CONTAINER) {
        return Some(found);
    }
    let made = document.create_element("div").ok()?;
    made.set_id(CONTAINER);
    document.body()?.append_child(&made).ok()?;
    Some(made)
}

/// What holds the sheets in the container: itself, or in somebody else's page a shadow root, at which the styles of that page end.
fn room(container: Element, apart: bool) -> Option<Node> {
    if !apart {
        return Some(container.into());
    }
    let root = match container.shadow_root() {
        Some(root) => root,
        None => container.attach_shadow(&ShadowRootInit::new(ShadowRootMode::Open)).ok()?,
    };
    Some(root.into())
}

/// Sets a property of an object of the browser's.
fn put(object: &JsValue, key: &str, value: &JsValue) {
    // Setting a property these objects have can't fail.
    let _ = js_sys::Reflect::set(object, &key.into(), value);
}

fn lack(desk: Desk, words: &str) {
    desk.refusal.set(Some(Refusal { saved: false, broken: Broken::Lacking(words.to_owned()) }));
}

fn fill(desk: Desk) {
    match later::now() {
        Some(later) => (later.set_out)(desk),
        // The browser is printing already and waits for nobody.
        None => lack(desk, "The sheets had not come yet when the page was printed. Print again."),
    }
}

fn put_away() {
    if let Some(later) = later::now() {
        (later.clear)();
    }
}

/// Puts the set into its container: reached from what comes later alone.
pub(crate) fn set_out(desk: Desk) {
    let Some(document) = document() else { return };
    let Some(room) = container(&document).and_then(|container| room(container, !desk.alone)) else { return };
    if room.has_child_nodes() {
        return;
    }
    let (units, paper) = (desk.units.get_untracked(), desk.paper.get_untracked());
    let (sheets, rules) = desk.plan.with_untracked(|plan| {
        (sheets::sheets(plan, units, paper, &today()), sheets::page_rules(plan, units, paper))
    });
    put(&room, "innerHTML", &sheets.into());
    if !desk.alone {
        put(&room, "adoptedStyleSheets", &own_sheets(desk));
    }
    set_page_rules(&document, &own_sheets(desk), &rules);
    if let Some(root) = document.document_element() {
        let _ = root.class_list().add_1(PRINTING);
    }
}

/// Empties the container: reached from what comes later alone.
pub(crate) fn clear() {
    let Some(document) = document() else { return };
    if let Some(container) = document.get_element_by_id(CONTAINER) {
        let apart = container.shadow_root().is_some();
        if let Some(room) = room(container, apart) {
            put(&room, "innerHTML", &"".into());
        }
    }
    if let Some(root) = document.document_element() {
        let _ = root.class_list().remove_1(PRINTING);
    }
    drop_page_rules(&document);
}

/// Marks our own sheet among those the host page has adopted.
const OURS: &str = "rowlightPageRules";

/// The day on the reader's calendar, as ISO 8601 writes it.
fn today() -> String {
    let now = js_sys::Date::new_0();
    format!("{}-{:02}-{:02}", now.get_full_year(), now.get_month() + 1, now.get_date())
}

/// Tells the printer the pages' size, margins and numbers. A constructed style sheet, because a policy
/// without inline styles drops a `<style>` element.
fn set_page_rules(document: &Document, own: &js_sys::Array, rules: &str) {
    drop_page_rules(document);
    let Ok(sheet) = CssStyleSheet::new() else { return };
    if sheet.replace_sync(rules).is_err() {
        return;
    }
    own.push(&sheet);
    let adopted = js_sys::Array::from(&document.adopted_style_sheets());
    for sheet in own.iter() {
        if js_sys::Reflect::set(&sheet, &OURS.into(), &JsValue::TRUE).is_ok() {
            adopted.push(&sheet);
        }
    }
    document.set_adopted_style_sheets(&adopted);
}

/// The style sheets of the shadow root the planner stands in, which the document doesn't have.
fn own_sheets(desk: Desk) -> js_sys::Array {
    if desk.alone {
        return js_sys::Array::new();
    }
    js_sys::Reflect::get(&desk.host().get_root_node(), &"adoptedStyleSheets".into())
        .map_or_else(|_| js_sys::Array::new(), |sheets| js_sys::Array::from(&sheets))
}

fn drop_page_rules(document: &Document) {
    let adopted = js_sys::Array::from(&document.adopted_style_sheets());
    let others = js_sys::Array::new();
    for sheet in adopted.iter() {
        let is_ours = js_sys::Reflect::get(&sheet, &OURS.into()).is_ok_and(|mark| mark.is_truthy());
        if !is_ours {
            others.push(&sheet);
        }
    }
    if others.length() != adopted.length() {
        document.set_adopted_style_sheets(&others);
    }
}
