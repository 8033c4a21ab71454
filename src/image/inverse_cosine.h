// SPDX-License-Identifier: MIT
#pragma once

namespace kithue {

/// A block of 8 x 8 samples, 0-255, `stride` bytes from row to row, from its dequantized coefficients (rows
/// from the top, the first the mean): the inverse transform of ITU-T T.81, A.3.3, in whole numbers after
/// Loeffler, Ligtenberg and Moschytz, "Practical fast 1-D DCT algorithms with 11 multiplications" (ICASSP
/// 1989). Constants have 13 bits and two more are kept between the two passes, as in libjpeg's accurate
/// transform: the same bits as that.
void inverse_cosine(unsigned char* out, int stride, const short coefficients[64]) noexcept;

}  // namespace kithue
