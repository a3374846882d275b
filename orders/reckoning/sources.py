"""The bibliography, one entry per key. Docstrings and constants cite it as [KEY].

DEFAULTS is no publication, and says so.
"""

SOURCES = {
    "UNICODE": "The Unicode Standard, version 14.0 (2021): UnicodeData, PropList, general category Nd.",
    "NIST811": "Thompson, Taylor: NIST Special Publication 811 (2008), appendix B: one inch is 25.4 mm exactly.",
    "GUM": "JCGM 100:2008, Evaluation of measurement data: guide to the expression of uncertainty in "
    "measurement. Section 5 and annex H.",
    "GUM106": "JCGM 106:2012, Evaluation of measurement data: the role of measurement uncertainty in conformity "
    "assessment. Section 8.2, simple acceptance (section number from memory).",
    "ISAK": "Mean of two readings, median of three: the rule of the International Society for the Advancement "
    "of Kinanthropometry, from memory and as quoted in public code.",
    "ANSUR2": "Gordon et al. 2014, NATICK/TR-15/007, the 2012 survey's public individual file: 4,082 men and "
    "1,986 women.",
    "CC0MESH": "Sections of a public-domain (CC0) human base mesh, square to the leg's axis; one modelled body. "
    "Its ankle to calf girth, 0.585, agrees with ANSUR2 (0.586 men, 0.579 women).",
    "ELLIPSE": "Perimeter of an ellipse by the arithmetic-geometric mean; https://en.wikipedia.org/wiki/"
    "Perimeter_of_an_ellipse and Abramowitz, Stegun 17.6.",
    "STEINER": "Steiner's formula: a closed convex curve moved inward by d, without a cusp, is 2 pi d shorter.",
    "PCHIP": "Fritsch, Butland 1984, SIAM J. Sci. Stat. Comput. 5:300-304: monotone piecewise cubic "
    "interpolation; end slopes by the three-point formula of Moler, Numerical computing with MATLAB, 3.6.",
    "EBERLY": "Eberly: Distance from a point to an ellipse, an ellipsoid, or a hyperellipsoid, Geometric Tools; "
    "the bisection of its section 2.9 (section number from memory).",
    "FOURBAR": "Instant centre of a four-bar linkage's coupler: where the two side links meet, produced; "
    "e.g. Norton, Design of machinery, chapter 6.",
    "SHEETS": "ISO 216: A4, 210 x 297 mm, each side within 2 mm; US Letter, 8 1/2 x 11 in, taken to be cut as well; "
    "ISO/IEC 7810, ID-1: 85.60 x 53.98 mm, within 0.13 mm. All from memory.",
    "HECKBERT": "Heckbert 1989, Fundamentals of texture mapping and image warping, section 2.2.3 (number from "
    "memory): the projective map of a square to a quadrilateral, in closed form.",
    "PINHOLE": "The pinhole camera, H = K [r1 r2 t] for a plane; e.g. Hartley, Zisserman, Multiple view geometry, "
    "chapter 8.",
    "DEFAULTS": "A default of this design, to be overridden by what is measured or by the catalogue.",
}
