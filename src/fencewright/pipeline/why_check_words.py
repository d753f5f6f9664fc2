"""Each check in words and in symbols; D is its demand, C its capacity, u their quotient."""

from types import MappingProxyType

from fencewright.tables.strength import Check

FORMULAS = MappingProxyType(
    {
        Check.BENDING: (
            "greatest bending moment of the post, above grade by its rails and braces, below as the soil or concrete "
            "turns it, against what its round section bears",
            "D = greatest of M(z); C = k R, R = F_b pi D_p^3 / 32 for timber",
        ),
        Check.SHEAR: (
            "greatest shear of the post against what its section bears",
            "D = greatest of P(z); C = k R, R = 3 F_v A / 4 for timber",
        ),
        Check.EMBEDMENT: (
            "force at grade, and its moment brought to grade, against the soil beside a post that nothing holds at "
            "grade",
            "D = P + 1.09 M / d; C = S1 b d / 2.34, S1 = S d / 3",
        ),
        Check.EMBEDMENT_BROMS: (
            "second opinion: force against the ultimate load of a short stiff post at the same height, over a factor",
            "D = P; C = H_u(d, b, M / P; phi or c) / F",
        ),
        Check.UPLIFT: (
            "lift of the rails and of the braces against weight, soil and skin by the chosen model",
            "D = U; C = weight + soil + skin / F; without concrete lift-out / F + weight; over d, b_1, b_2",
        ),
        Check.UPLIFT_SHAFT: (
            "second opinion: weight, and skin along the shaft",
            "D = U; C = weight + pi b_1 (d - recess) skin / F",
        ),
        Check.UPLIFT_CYLINDER: (
            "second opinion: weight, the soil over the bell, and skin along a cylinder as wide as the bell",
            "D = U; C = weight + soil + pi b_2 (d - bell) skin / F",
        ),
        Check.UPLIFT_CONE: (
            "second opinion: weight and a cone of soil that opens upward from the bell",
            "D = U; C = weight + cone(b_2, d) / F",
        ),
        Check.UPLIFT_LEDGE: (
            "second opinion: weight, and the soil that stands on the bell's ledge",
            "D = U; C = weight + soil on pi (b_2^2 - b_1^2) / 4",
        ),
        Check.BEARING: (
            "what presses down, the post's weight with it, against the soil under its base",
            "D = N + G; C = q pi b_2^2 / 4",
        ),
        Check.FROST: ("frost depth against the depth of the concrete", "D = z_f; C = depth of the hole"),
        Check.LEAN: (
            "movement of the top on the coldest day, as soft as the code reckons the soil, against the lean that the "
            "post was set with",
            "D = movement at the top; C = e",
        ),
        Check.BRACE_COMPRESSION: (
            "force along the brace against what a round strut of its length bears, pinned at both ends, buckling "
            "included",
            "D = H sqrt(r^2 + f^2) / r (H for a level one); C = C_p(l, D_b, E_min) F_c A",
        ),
        Check.FOOTING_PUSH: (
            "level push of the brace against the soil before its footing, and sliding of its base",
            "D = H; C = S D_f (d^2 - top^2) / 2 + sliding under weight and H f / r",
        ),
        Check.FOOTING_TIPPING: (
            "moment of the brace's level push about the footing's toe against passive soil and what presses down, over "
            "the factor against overturning",
            "D = H z; C = (M_s + (H f / r + weight) D_f / 2) / F",
        ),
        Check.FOOTING_BEARING: (
            "what the brace presses down, the footing's weight with it, against its base or its skin, the better",
            "D = H f / r + weight; C = max(q pi D_f^2 / 4, skin)",
        ),
        Check.TIE: (
            "force of the diagonal tie against a share of its breaking load",
            "D = H sqrt(r^2 + f^2) / r; C = s x strands x breaking load of one",
        ),
    }
)
