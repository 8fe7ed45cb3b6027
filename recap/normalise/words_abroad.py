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
            "eletrolitico eletroliticos 電解 電解コンデンサ 電解コンデンサー アルミ電解 ケミコン アルミ "
            "电解 电解电容 铝电解 铝电解电容 전해 전해콘덴서 알루미늄전해 ηλεκτρολυτικός ηλεκτρολυτικοί elektrolit "
            "elektrolitski elektrolitik електролітичний electrolitic electrolitici electrolítics"
        ).split(),
        Kind.ELECTROLYTIC,
    ),
    **dict.fromkeys(
        (
            "bipolär|bipolära|bipolær|bipolære|bipolarny|bipolarne|opolär|opolära|opolariserad|opolariserade|upolær"
            "|upolære"
            "|ikke-polariseret|ikke polariseret|ikke-polarisert|ikke polarisert|polaroimaton|nepolární|não polarizado"
            "|não polarizados|não-polarizado|não polar|無極性|無極性電解|両極性|両極性電解|バイポーラ|無極|bp電解"
            "|무극성|양극성|nepolarni|bipolarni|nepolarizat|nepolarizați|no polaritzat|no polaritzats|nem polarizált"
            "|μη πολωμένος|неполярний|неполярен|неполяризиран"
            "|kutupsuz|polarize olmayan|upolariseret|upolariserede|upolarisert|upolariserte|upolar|niespolaryzowany"
            "|niespolaryzowane|sin polaridad|apolaire|apolaires|unipolar|unipolare|διπολικός|非極性"
            "|无极性|无极性电解|无极|双极|双极性"
        ).split("|"),
        Kind.BIPOLAR,
    ),
    **dict.fromkeys(
        "tantali tantaali tântalo tantál tàntal タンタル タンタル電解 钽 钽电容 钽电解 "
        "탄탈 탄탈륨 τανταλίου танталовий".split(),
        Kind.TANTALUM,
    ),
    **dict.fromkeys(
        "pp mpp mpe mkv polypropen polypropylén plast plastfolie plastfilm filme kalvo muovi fólie fólia "
        "フィルム マイラー マイラ "
        "ポリエステル ポリプロピレン ポリプロ スチロール пленка плёнка "
        "folija folijski 필름 마일러 폴리에스터 polièster polyesteri πολυεστερικός плівка плівковий "
        "filmový svitek svitky 薄膜 薄膜电容 涤纶 聚酯 聚丙烯 金属化薄膜 cbb".split(),
        Kind.FILM,
    ),
    **dict.fromkeys(
        "seramik "
        "keramika keramikus keramički keramisk keramiska keramiske ceramika cerâmico cerâmicos cerâmica kerámia "
        "세라믹 ceràmic κεραμικός керамічний "
        "セラミック 積層セラミック セラコン керамика 瓷片 瓷片电容 陶瓷 陶瓷电容 瓷介 独石".split(),
        Kind.CERAMIC,
    ),
    **dict.fromkeys(
        "papper papír papir papirowy paperi mika マイカ オイル слюда полимер 云母 纸介 固态".split(), Kind.OTHER
    ),
    **dict.fromkeys("avstörningskondensator avstörning odrušovací przeciwzakłóceniowy".split(), Kind.SAFETY),
}

MOUNT_WORDS: Final[dict[str, Mount]] = {
    **dict.fromkeys(
        "radyal dik stojící promieniowy promieniowe "
        "radiális stående radiell radiella radiellt radiaali radiais álló pysty ラジアル 縦型 立型 径向".split(),
        Mount.RADIAL,
    ),
    **dict.fromkeys(
        "eksenel yatık vaaka vaakamalli ležící "
        "axiális liggande liggende axiell axiella axiellt aksial aksiale aksialt aksiaali axiais fekvő "
        "アキシャル 横型 チューブラ 轴向 卧式".split(),
        Mount.AXIAL,
    ),
    **dict.fromkeys(
        "ytmonterad|ytmonterade|ytmontering|overflademonteret|overflatemontert|pintaliitos|表面実装|チップ|贴片".split("|"),
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
    **dict.fromkeys("stojac stojat radialn radiaali радиальн вертикальн".split(), Mount.RADIAL),
    **dict.fromkeys("lezac lezat osiow axialn aksiaali аксиальн осево осевы".split(), Mount.AXIAL),
}
STEM_LENGTH: Final = 5
"""No stem is shorter: by so many letters they are looked up."""
