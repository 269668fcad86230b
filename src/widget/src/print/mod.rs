//! The printed sheet set: three scaled drawings, then figures, orders, findings, assumptions, workings.
//!
//! `@page` only counts at the top of a document and the host page must not show through, so the set
//! stands in a container of its own at the end of the body, filled only while something is printed.

mod sheets;

use crate::desk::Desk;
use drafting::packet::Paper;
use leptos::leptos_dom::helpers::window_event_listener_untyped;
use leptos::prelude::*;
use wasm_bindgen::JsValue;
use web_sys::{CssStyleSheet, Document, Element};

/// The container's id, and the class the document carries while it is filled.
const CONTAINER: &str = "rowlight-print";
const PRINTING: &str = "rowlight-printing";

/// Prints the plan on the desk.
pub(crate) fn open_print(desk: Desk) {
    desk.settle();
    fill(desk);
    if let Some(window) = web_sys::window() {
        // A browser that forbids printing says so itself.
        let _ = window.print();
    }
}

/// Fills the sheet set whenever the page is printed, by whatever way, and clears it afterwards.
pub(crate) fn follow_print(desk: Desk) {
    let before = window_event_listener_untyped("beforeprint", move |_| fill(desk));
    let after = window_event_listener_untyped("afterprint", |_| clear());
    on_cleanup(move || {
        before.remove();
        after.remove();
        clear();
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

fn fill(desk: Desk) {
    let Some(document) = document() else { return };
    let Some(container) = container(&document) else { return };
    if container.has_child_nodes() {
        return;
    }
    let (units, paper) = (desk.units.get_untracked(), desk.paper.get_untracked());
    container.set_inner_html(&desk.plan.with_untracked(|plan| sheets::sheets(plan, units, paper)));
    set_page_size(&document, paper);
    if let Some(root) = document.document_element() {
        let _ = root.class_list().add_1(PRINTING);
    }
}

fn clear() {
    let Some(document) = document() else { return };
    if let Some(container) = document.get_element_by_id(CONTAINER) {
        container.set_inner_html("");
    }
    if let Some(root) = document.document_element() {
        let _ = root.class_list().remove_1(PRINTING);
    }
    drop_page_size(&document);
}

/// Marks our own sheet among those the host page has adopted.
const OURS: &str = "rowlightPageSize";

/// Says the paper's size to the printer. A constructed style sheet, because a policy without inline
/// styles drops a `<style>` element.
fn set_page_size(document: &Document, paper: Paper) {
    drop_page_size(document);
    let (width, height) = paper.size();
    let rules = format!(
        "@page{{size:{width}mm {height}mm;margin:0}}@page rl-wide{{size:{height}mm {width}mm;margin:0}}@page rl-text{{margin:15mm 16mm 16mm}}"
    );
    let Ok(sheet) = CssStyleSheet::new() else { return };
    if sheet.replace_sync(&rules).is_err()
        || js_sys::Reflect::set(&sheet, &OURS.into(), &JsValue::TRUE).is_err()
    {
        return;
    }
    let adopted = js_sys::Array::from(&document.adopted_style_sheets());
    adopted.push(&sheet);
    document.set_adopted_style_sheets(&adopted);
}

fn drop_page_size(document: &Document) {
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
