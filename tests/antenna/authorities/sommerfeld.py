"""Reference values of the reflected half-space potentials, by mpmath, written independently of the program.

Writes sommerfeld.txt and bessel.txt beside itself. Run once: python sommerfeld.py (needs mpmath 1.4, about 10 minutes).

Method: the definition with Sommerfeld's own potentials (A. Sommerfeld, "Partial Differential Equations in Physics",
section 32; the charge potential of a horizontal dipole from the Lorenz condition), along a path lifted over the
singularities, then the real axis in half periods with mpmath's own series acceleration (quadosc).
Lengths in 1/k0, exp(+j w t).
"""
import pathlib
from mpmath import mp, mpf, mpc, sqrt, exp, besselj, quad, quadosc, pi, inf, linspace

mp.dps = 15


def kernels(eps, s):
    u = sqrt(s * s - 1)
    v = sqrt(s * s - eps)
    rh = (u - v) / (u + v)
    rv = (eps * u - v) / (eps * u + v)
    w = 2 * s * (u - v) / (eps * u + v)           # A_z of a horizontal dipole, d/dx of
    rq = rh - u * u * w / s                        # charge of a horizontal dipole
    # a vertical dipole's own charge potential is -rv; what differs from rq goes into its A_z
    rz = rv - u * u * (-rv - rq)
    return u, (rh * s / u, rz * s / u, rq * s / u, -s * w)


def reflected(eps, x, y, which):
    order = 1 if which == 3 else 0

    def f(s):
        u, k = kernels(eps, s)
        return k[which] * exp(-u * y) * besselj(order, s * x)

    n = sqrt(eps)
    end = mpf(n.real) + 1
    lift = min(mpf("0.4"), 1 / x) if x > 0 else mpf("0.4")
    pieces = max(4, int(end / lift) + 1)
    path = [mpc(0)] + [mpc(t, lift) for t in linspace(lift / 2, end - lift / 2, pieces)] + [mpc(end)]
    head = quad(f, path)
    # The tail: half periods of the Bessel function, summed outright where exp(-s y) ends it soon.
    if y > x / 5:
        step = min(pi / x, 2 / y) if x > 0 else 2 / y
        count = int(36 / y / step) + 2
        tail = quad(f, [end + step * k for k in range(count)], maxdegree=4)
    else:
        tail = quadosc(f, [end, inf], zeros=lambda k: end + k * pi / x)
    return head + tail


def write_bessel():
    out = pathlib.Path(__file__).with_name("bessel.txt").open("w")
    out.write("# re im of z, then re im of J0(z) and J1(z); made by sommerfeld.py, mpmath\n")
    for z in [0, 0.5, 3, 10, 13.9, 14.1, 40, 500, mpc(0.2, 0.2), mpc(5, 0.35), mpc(13, 2), mpc(14.5, -1.5), mpc(60, 1),
              mpc(13.9, 0.1)]:
        v = [mpc(z), mpc(besselj(0, z)), mpc(besselj(1, z))]
        out.write(" ".join(f"{mp.nstr(w.real, 14)} {mp.nstr(w.imag, 14)}" for w in v) + "\n")


if __name__ == "__main__":
    write_bessel()
    grounds = [  # eps at the frequency named
        ("sea 70/5 at 14.1 MHz", mpc(70, -17975.1 * 5 / 14.1)),
        ("average 13/0.005 at 7.1 MHz", mpc(13, -17975.1 * 0.005 / 7.1)),
        ("rock 5/0.001 at 14.1 MHz", mpc(5, -17975.1 * 0.001 / 14.1)),
        ("fresh water 80/0.003 at 28.3 MHz", mpc(80, -17975.1 * 0.003 / 28.3)),
        ("very dry 3/0.0001 at 14.1 MHz", mpc(3, -17975.1 * 0.0001 / 14.1)),
    ]
    points = [(0, 0.006), (0.003, 0.006), (0.3, 0.006), (0.01, 0.3), (1.0, 0.05), (1.0, 1.0), (5.0, 0.05),
              (5.0, 2.0), (20.0, 0.3), (20.0, 5.0)]
    out = pathlib.Path(__file__).with_name("sommerfeld.txt").open("w")
    out.write("# eps' eps'' x y  then re im of horizontal, vertical, charge, coupling; made by sommerfeld.py, mpmath\n")
    for name, eps in grounds:
        out.write(f"# {name}\n")
        for x, y in points:
            row = [reflected(eps, mpf(x), mpf(y), k) for k in range(4)]
            numbers = " ".join(f"{mp.nstr(v.real, 12)} {mp.nstr(v.imag, 12)}" for v in map(mpc, row))
            out.write(f"{mp.nstr(eps.real, 12)} {mp.nstr(eps.imag, 12)} {x} {y} {numbers}\n")
            out.flush()
