// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "sheet/page.h"
#include "sheet/parts.h"

namespace kithue {

/// One ink of the kit, and what a student uses for it.
struct StudentInk {
  enum class Use {
    owned,     ///< she has this ink
    stand_in,  ///< one of hers stands in
    none       ///< nothing of hers comes near
  };
  SheetDot ink;
  Use use = Use::none;
  SheetDot own;         ///< hers; empty for `none`
  std::string words;    ///< how hers differs: "a touch darker, pinker"
  std::string caution;  ///< "it would look like a failed match beside Sailcloth", or empty
};

struct StudentPage {
  std::string kit;  ///< name of the kit
  std::string date;
  std::string student;
  std::vector<StudentInk> inks;
  std::string printer_note;
};

/// A short page for one student: for each ink of the kit the one of her own to use, both as dots with their
/// names, and how they differ in words. No numbers.
Document lay_out_student_page(const StudentPage& page, PageSize size, bool large = false);

}  // namespace kithue
