//! What Plan and Lay out say beside their boxes.
