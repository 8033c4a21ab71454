// SPDX-License-Identifier: MIT
#pragma once

#include <doctest/doctest.h>
#include <lcms2.h>

#include <array>
#include <string>
#include <vector>

#include "colour/lab.h"

namespace kithue {

/// Lab of device colours from 0 to 1 under an RGB profile, by cmsDoTransform in double precision.
inline std::vector<Lab> lab_by_lcms(const std::string& icc, const std::vector<std::array<double, 3>>& device,
                                    cmsUInt32Number intent) {
  const cmsHPROFILE profile = cmsOpenProfileFromMem(icc.data(), static_cast<cmsUInt32Number>(icc.size()));
  const cmsHPROFILE lab = cmsCreateLab4Profile(nullptr);
  const cmsHTRANSFORM transform = cmsCreateTransform(profile, TYPE_RGB_DBL, lab, TYPE_Lab_DBL, intent,
                                                     cmsFLAGS_NOOPTIMIZE | cmsFLAGS_NOCACHE);
  REQUIRE(transform != nullptr);
  std::vector<Lab> found;
  for (const std::array<double, 3>& input : device) {
    cmsCIELab out{};
    cmsDoTransform(transform, input.data(), &out, 1);
    found.push_back({out.L, out.a, out.b});
  }
  cmsDeleteTransform(transform);
  cmsCloseProfile(lab);
  cmsCloseProfile(profile);
  return found;
}

}  // namespace kithue
