# SPDX-License-Identifier: MIT
# Writes OUT: a C++ line that names the code which reads photos, by a sum over FILES and the versions of what
# it is built with. What was read with other code is not taken from the cache.
set(sums "${VERSIONS}")
string(REPLACE "|" ";" FILES "${FILES}")
foreach(file IN LISTS FILES)
  file(SHA256 ${file} sum)
  string(APPEND sums " ${sum}")
endforeach()
string(SHA256 whole "${sums}")
file(CONFIGURE OUTPUT ${OUT} CONTENT "inline constexpr char kPhotoCode[] = \"${whole}\";\n")
