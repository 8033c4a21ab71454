// SPDX-License-Identifier: MIT
#pragma once

#include <hb-subset.h>

namespace kithue {

/// Lets std::unique_ptr hold what HarfBuzz counts.
struct HbFree {
  void operator()(hb_blob_t* it) const { hb_blob_destroy(it); }
  void operator()(hb_buffer_t* it) const { hb_buffer_destroy(it); }
  void operator()(hb_draw_funcs_t* it) const { hb_draw_funcs_destroy(it); }
  void operator()(hb_face_t* it) const { hb_face_destroy(it); }
  void operator()(hb_font_t* it) const { hb_font_destroy(it); }
  void operator()(hb_subset_input_t* it) const { hb_subset_input_destroy(it); }
  void operator()(hb_subset_plan_t* it) const { hb_subset_plan_destroy(it); }
};

}  // namespace kithue
