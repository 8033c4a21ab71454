// SPDX-License-Identifier: MIT
// The peer of bench_command: what a palette costs with OpenCV's k-means. Reads a picture at quarter size, as
// its decoder offers it, and divides it into six colours in Lab, best of three tries. Usage: bench_opencv
// PICTURE
#include <cstdio>
#include <cstring>
#include <opencv2/core.hpp>
#include <opencv2/core/utility.hpp>
#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>

int main(int argc, char** argv) {
  if (argc > 1 && std::strcmp(argv[1], "--version") == 0) {
    std::printf("%s\n", CV_VERSION);
    return 0;
  }
  if (argc < 2) return 2;
  cv::Mat picture = cv::imread(argv[1], cv::IMREAD_REDUCED_COLOR_4);
  if (picture.empty()) return 1;
  picture.convertTo(picture, CV_32F, 1.0 / 255.0);
  cv::cvtColor(picture, picture, cv::COLOR_BGR2Lab);
  const cv::Mat pixels = picture.reshape(1, static_cast<int>(picture.total()));
  cv::Mat labels;
  cv::Mat centres;
  cv::theRNG().state = 1;
  cv::kmeans(pixels, 6, labels, {cv::TermCriteria::EPS + cv::TermCriteria::COUNT, 20, 0.5}, 3,
             cv::KMEANS_PP_CENTERS, centres);
  for (int i = 0; i < centres.rows; ++i) {
    std::printf("%.2f %.2f %.2f\n", static_cast<double>(centres.at<float>(i, 0)),
                static_cast<double>(centres.at<float>(i, 1)), static_cast<double>(centres.at<float>(i, 2)));
  }
  return 0;
}
