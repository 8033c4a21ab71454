# Address and undefined-behaviour sanitizers, asserts on, containers checked. Left out of the second one are null,
# object-size and vptr, a third of the build: the first one and the checked containers see nearly all that they do, but
# not a null reference that is never read, nor a cast to the wrong class.
set(CMAKE_BUILD_TYPE None CACHE STRING "")
set(CMAKE_CXX_FLAGS "-O1 -g1 -fno-omit-frame-pointer -fsanitize=address,undefined -fno-sanitize=null,object-size,vptr -fno-sanitize-recover=undefined -D_GLIBCXX_ASSERTIONS" CACHE STRING "")
set(CMAKE_COMPILE_WARNING_AS_ERROR ON CACHE BOOL "")
set(KITHUE_JOIN ON CACHE BOOL "")
# Tests, commands, harnesses and samples: half the time to compile. With -O0 their copies of the standard templates slow
# the program.
set(KITHUE_LITTLE_RUN_OPTIONS "-Og" CACHE STRING "")
