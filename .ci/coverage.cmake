# Which lines the fuzz corpus reaches: clang's source-based coverage. Use: tools/fuzz/coverage
set(CMAKE_CXX_COMPILER clang++ CACHE STRING "")
set(CMAKE_BUILD_TYPE None CACHE STRING "")
set(CMAKE_CXX_FLAGS "-O1 -g1 -w -fprofile-instr-generate -fcoverage-mapping" CACHE STRING "")
set(KITHUE_JOIN ON CACHE BOOL "")
