"""Words for kind and mount in further languages, as data: northern, Slavic, Portuguese, Hungarian, Japanese.

Where a language bends its words a stem is enough: what begins with it states the same. Common practice of
lists, from memory.
"""

from __future__ import annotations

from typing import Final

from recap.model import Kind, Mount

KIND_WORDS: Final[dict[str, Kind]] = {
    **dict.fromkeys(
        (
            "elektrolyter elektrolyttkondensator elytti elkot elyty elektrolyty elkó elkók lytkondensator lyt lytter "
            "eletrolitico eletroliticos 電解 電解コンデンサ 電解コンデンサー アルミ電解 ケミコン アルミ"
        ).split(),
        Kind.ELECTROLYTIC,
    ),
    **dict.fromkeys(
        (
            "bipolär|bipolära|bipolær|bipolære|bipolarny|bipolarne|opolär|opolära|opolariserad|opolariserade|upolær"
            "|upolære"
            "|ikke-polariseret|ikke polariseret|ikke-polarisert|ikke polarisert|polaroimaton|nepolární|não polarizado"
            "|não polarizados|não-polarizado|não polar|無極性|無極性電解|両極性|両極性電解|バイポーラ|無極|bp電解"
        ).split("|"),
        Kind.BIPOLAR,
    ),
    **dict.fromkeys("tantali tantaali tântalo tantál タンタル タンタル電解".split(), Kind.TANTALUM),
    **dict.fromkeys(
        "pp mpp mpe mkv polypropen polypropylén plast plastfolie plastfilm filme kalvo muovi fólie fólia "
        "フィルム マイラー マイラ "
        "ポリエステル ポリプロピレン ポリプロ スチロール пленка плёнка".split(),
        Kind.FILM,
    ),
    **dict.fromkeys(
        "keramika keramikus keramički keramisk keramiska keramiske ceramika cerâmico cerâmicos cerâmica kerámia "
        "セラミック 積層セラミック セラコン керамика".split(),
        Kind.CERAMIC,
    ),
    **dict.fromkeys("papper papír papir paperi mika マイカ オイル слюда полимер".split(), Kind.OTHER),
    **dict.fromkeys("avstörningskondensator avstörning odrušovací przeciwzakłóceniowy".split(), Kind.SAFETY),
}

MOUNT_WORDS: Final[dict[str, Mount]] = {
    **dict.fromkeys(
        "radiális stående radiell radiella radiellt radiaali radiais álló pysty ラジアル 縦型 立型".split(),
        Mount.RADIAL,
    ),
    **dict.fromkeys(
        "axiális liggande liggende axiell axiella axiellt aksial aksiale aksialt aksiaali axiais fekvő "
        "アキシャル 横型 チューブラ".split(),
        Mount.AXIAL,
    ),
    **dict.fromkeys(
        "ytmonterad|ytmonterade|ytmontering|overflademonteret|overflatemontert|pintaliitos|表面実装|チップ".split("|"),
        Mount.SMD,
    ),
}

KIND_STEMS: Final[dict[str, Kind]] = {
    **dict.fromkeys(
        "elektrolity elektrolytick elektrolyytt elektrolyttkond электролит eletrolitic".split(), Kind.ELECTROLYTIC
    ),
    **dict.fromkeys(
        "bipolarn niepolar bipolaari bipolaris nepolar polarizalatlan polarizatlan неполяр биполяр".split(),
        Kind.BIPOLAR,
    ),
    **dict.fromkeys("tantalow tantalov tantalkond tantaalikond тантал".split(), Kind.TANTALUM),
    **dict.fromkeys(
        "foliow foliov styrofleks polistyren polystyren "
        "пленоч poliestrow polipropylen polyesterikond polipropilen polieszter kalvokond muovikalvo "
        "svitkov лавсан полипропилен полиэтил".split(),
        Kind.FILM,
    ),
    **dict.fromkeys("ceramiczn keramick keraami керамич".split(), Kind.CERAMIC),
    **dict.fromkeys("papierow papirov slidov mikow бумаж слюдян".split(), Kind.OTHER),
}
"""Folded beginnings of bent words."""

MOUNT_STEMS: Final[dict[str, Mount]] = {
    **dict.fromkeys("stojac stojat radialn radiaali радиальн".split(), Mount.RADIAL),
    **dict.fromkeys("lezac lezat osiow axialn aksiaali аксиальн осево осевы".split(), Mount.AXIAL),
}
STEM_LENGTH: Final = 5
"""No stem is shorter: by so many letters they are looked up."""
