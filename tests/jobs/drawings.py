"""Draws the six pictures that stand for photographs in landing-chest-finished.

Writes SVG files into the folder it is run in; a browser made PNG files of them, 640 by
480 dots. They are drawings: there is no such chest.
"""

W,H=640,480
def svg(body,caption):
    return f'''<svg xmlns="http://www.w3.org/2000/svg" width="{W}" height="{H}" viewBox="0 0 {W} {H}">
<rect width="{W}" height="{H}" fill="#efe9dd"/><rect y="400" width="{W}" height="80" fill="#d9cfba"/>
{body}
<text x="12" y="470" font-family="sans-serif" font-size="13" fill="#5a5040">{caption} (drawn for the demonstration)</text></svg>'''
WOOD="#8a5a33"; DARK="#4d2f18"; LIGHT="#a8743f"; PALE="#d8b98a"
def drawer(x,y,w,h,low=0,handles=True,crook=False):
    s=f'<rect x="{x}" y="{y+low}" width="{w}" height="{h}" fill="{LIGHT}" stroke="{DARK}" stroke-width="2"/><rect x="{x+4}" y="{y+4+low}" width="{w-8}" height="{h-8}" fill="none" stroke="{DARK}" stroke-width="1"/>'
    if handles:
        for i,hx in enumerate((x+w*0.22,x+w*0.72)):
            t=f' transform="rotate(18 {hx} {y+h/2})"' if crook and i==0 else ''
            s+=f'<g{t}><path d="M{hx} {y+h/2-4+low} q 18 26 36 0" fill="none" stroke="#b8973f" stroke-width="4"/><circle cx="{hx}" cy="{y+h/2-5+low}" r="5" fill="#b8973f"/><circle cx="{hx+36}" cy="{y+h/2-5+low}" r="5" fill="#b8973f"/></g>'
    return s
def chest(before):
    skew=' transform="skewX(-2.2) translate(16 0)"' if before else ''
    s=f'<g{skew}>'
    s+=f'<rect x="120" y="90" width="400" height="270" fill="{WOOD}" stroke="{DARK}" stroke-width="3"/><rect x="106" y="76" width="428" height="18" fill="{DARK}"/>'
    for i in range(4):
        s+=drawer(134,104+i*63,372,54,low=7 if before and i==1 else 0,crook=before and i==1)
    if before: s+=f'<path d="M127 110 L131 210 L126 340" stroke="#1d1008" stroke-width="3" fill="none"/>'
    s+='</g>'
    for i,fx in enumerate((124,464)):
        lean=' transform="rotate(9 480 360)"' if before and i==1 else ''
        s+=f'<g{lean}><path d="M{fx} 360 h52 v44 q-8 -22 -30 -24 l-6 24 h-16 z" fill="{DARK}"/></g>'
    return s
def runner(before):
    s=f'<rect x="60" y="120" width="520" height="150" fill="{PALE}" stroke="{DARK}" stroke-width="3"/>'
    if before:
        s+=f'<path d="M60 270 L60 282 Q 200 276 320 262 Q 460 246 580 248 L580 270 Z" fill="{PALE}" stroke="{DARK}" stroke-width="2"/><path d="M320 262 Q 460 246 580 248" stroke="#1d1008" stroke-width="4" fill="none"/>'
        s+='<path d="M500 300 v-48" stroke="#a33" stroke-width="2"/><text x="508" y="300" font-family="sans-serif" font-size="15" fill="#a33">3 mm</text>'
    else:
        s+=f'<rect x="60" y="256" width="520" height="26" fill="#c79a5b" stroke="{DARK}" stroke-width="2"/>'
        for k in range(8): s+=f'<path d="M{80+k*64} 262 q 30 8 50 2" stroke="#9a7038" stroke-width="1.4" fill="none"/>'
    for k in range(6): s+=f'<path d="M{90+k*80} 140 q 20 50 6 110" stroke="#b9955f" stroke-width="1.5" fill="none"/>'
    for k in range(4): s+=f'<path d="M60 {140+k*32} l-22 -5 v26 l22 -5 z" fill="{LIGHT}" stroke="{DARK}"/>'
    return s
def foot(before):
    s=f'<rect x="80" y="60" width="480" height="90" fill="{WOOD}" stroke="{DARK}" stroke-width="3"/>'
    t=' transform="rotate(11 330 150)"' if before else ''
    s+=f'<g{t}><path d="M220 150 h220 v220 h-70 q-16 -110 -150 -120 z" fill="{LIGHT}" stroke="{DARK}" stroke-width="3"/></g>'
    if before:
        s+='<rect x="236" y="152" width="36" height="30" fill="#e6cda4" stroke="#9a7038"/><rect x="300" y="152" width="36" height="30" fill="#e6cda4" stroke="#9a7038"/>'
    else:
        s+=f'<path d="M236 152 h40 v50 h-40 z M300 152 h40 v40 h-40 z" fill="#c79a5b" stroke="{DARK}"/>'
    return s
for name,f,cap in (("chest",chest,"The chest"),("runner",runner,"Left running edge of drawer 2"),("foot",foot,"Foot 3 of the base")):
    for b in (True,False):
        w="before" if b else "after"
        open(f'{name}-{w}.svg','w').write(svg(f(b),f'{cap}, {w} the work'))
