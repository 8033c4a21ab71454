# Fuzzing: clang, address and undefined-behaviour sanitizers, asserts on. Use: tools/fuzz/run
set(CMAKE_CXX_COMPILER clang++ CACHE STRING "")
set(CMAKE_BUILD_TYPE None CACHE STRING "")
set(CMAKE_CXX_FLAGS "-O1 -g1 -w -fno-omit-frame-pointer -fsanitize=fuzzer-no-link,address,undefined -fno-sanitize-recover=undefined" CACHE STRING "")
set(KITHUE_FUZZ ON CACHE BOOL "")
set(KITHUE_JOIN ON CACHE BOOL "")
