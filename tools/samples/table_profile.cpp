// SPDX-License-Identifier: MIT
#include "samples/table_profile.h"

#include <lcms2.h>

namespace kithue::samples {
namespace {

cmsInt32Number paper_like(const cmsFloat32Number in[], cmsFloat32Number out[], void*) {
  // A printer-like table into Lab: a gentle hue twist and a black that is not black, in units of 0-1.
  const float light = 0.08F + 0.9F * (0.3F * in[0] + 0.6F * in[1] + 0.1F * in[2]);
  out[0] = light;
  out[1] = 0.5F + 0.25F * (in[0] - in[1]) * (0.8F + 0.2F * in[2]);
  out[2] = 0.5F + 0.25F * (0.5F * in[0] + 0.5F * in[1] - in[2]);
  return 1;
}

}  // namespace

std::string table_profile(unsigned points) {
  const cmsHPROFILE profile = cmsCreateProfilePlaceholder(nullptr);
  cmsSetProfileVersion(profile, 4.3);
  cmsSetDeviceClass(profile, cmsSigOutputClass);
  cmsSetColorSpace(profile, cmsSigRgbData);
  cmsSetPCS(profile, cmsSigLabData);
  cmsMLU* words = cmsMLUalloc(nullptr, 1);
  cmsMLUsetWide(words, "en", "US", L"Table f\u00fcr Papier");
  cmsWriteTag(profile, cmsSigProfileDescriptionTag, words);
  cmsMLUfree(words);
  cmsPipeline* pipeline = cmsPipelineAlloc(nullptr, 3, 3);
  cmsStage* table = cmsStageAllocCLut16bit(nullptr, points, 3, 3, nullptr);
  cmsStageSampleCLut16bit(
      table,
      [](const cmsUInt16Number in[], cmsUInt16Number out[], void* cargo) {
        cmsFloat32Number from[3], to[3];
        for (int i = 0; i < 3; ++i) from[i] = static_cast<float>(in[i]) / 65535.0F;
        paper_like(from, to, cargo);
        for (int i = 0; i < 3; ++i) out[i] = static_cast<cmsUInt16Number>(to[i] * 65535.0F + 0.5F);
        return 1;
      },
      nullptr, 0);
  cmsToneCurve* const straight = cmsBuildGamma(nullptr, 1.0);
  cmsToneCurve* curves[3] = {straight, straight, straight};
  cmsPipelineInsertStage(pipeline, cmsAT_BEGIN, cmsStageAllocToneCurves(nullptr, 3, curves));
  cmsPipelineInsertStage(pipeline, cmsAT_END, table);
  cmsPipelineInsertStage(pipeline, cmsAT_END, cmsStageAllocToneCurves(nullptr, 3, curves));
  cmsWriteTag(profile, cmsSigAToB1Tag, pipeline);
  cmsWriteTag(profile, cmsSigAToB0Tag, pipeline);
  cmsPipelineFree(pipeline);
  cmsFreeToneCurve(straight);
  cmsUInt32Number size = 0;
  cmsSaveProfileToMem(profile, nullptr, &size);
  std::string bytes(size, '\0');
  cmsSaveProfileToMem(profile, bytes.data(), &size);
  cmsCloseProfile(profile);
  return bytes;
}

}  // namespace kithue::samples
