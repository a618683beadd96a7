/** What the tests do inside the page. Plain script, put in front of the page's own; no part of what is shipped. */
(() => {
  const connect = AudioNode.prototype.connect;
  let output = null;
  /** Samples of parts that were not there in time, as the audio thread tells it. */
  let late = 0;
  AudioNode.prototype.connect = function (to, ...rest) {
    if (to instanceof AudioDestinationNode) {
      output = this;
      this.port?.addEventListener('message', ({ data }) => (late += data.kind === 'late' ? data.samples : 0));
    }
    return connect.call(this, to, ...rest);
  };

  const base64 = (samples) =>
    new Promise((resolve) => {
      const reader = new FileReader();
      reader.onload = () => resolve(reader.result.slice(reader.result.indexOf(',') + 1));
      reader.readAsDataURL(new Blob([samples]));
    });

  let tap = null;
  let pressed = -1;
  addEventListener('keydown', () => (pressed = output === null ? -1 : frameNow()), { capture: true });
  const frameNow = () => Math.round(output.context.currentTime * output.context.sampleRate);

  const channels = (text) => {
    const [, list] = /rgba?\(([^)]*)\)/.exec(text) ?? [];
    const [r, g, b, alpha = 1] = (list ?? '0,0,0,0').split(/[\s,/]+/).map(Number);
    return { r, g, b, alpha };
  };
  const over = (top, under, alpha) => ({
    r: top.r * alpha + under.r * (1 - alpha),
    g: top.g * alpha + under.g * (1 - alpha),
    b: top.b * alpha + under.b * (1 - alpha),
  });
  const opacityOf = (element) => {
    let all = 1;
    for (let at = element; at !== null; at = at.parentElement) all *= Number(getComputedStyle(at).opacity);
    return all;
  };
  const paperUnder = (element) => {
    for (let at = element; at !== null; at = at.parentElement) {
      const colour = channels(getComputedStyle(at).backgroundColor);
      if (colour.alpha === 1) return colour;
    }
    return { r: 255, g: 255, b: 255 };
  };
  /** Relative luminance and contrast ratio: WCAG 2.2, definitions. */
  const luminance = ({ r, g, b }) => {
    const [red, green, blue] = [r, g, b].map((value) => {
      const share = value / 255;
      return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
    });
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
  };
  const ratio = (a, b) => {
    const [light, dark] = [luminance(a), luminance(b)].sort((x, y) => y - x);
    return (light + 0.05) / (dark + 0.05);
  };
  const contrastOf = (element, colour) => {
    const paper = paperUnder(element);
    return ratio(over(channels(colour), paper, channels(colour).alpha * opacityOf(element)), paper);
  };

  const nameOf = (one) => one.getAttribute('aria-label') ?? (one.textContent || one.name || one.localName);

  globalThis.levareTest = {
    rate: () => output?.context.sampleRate ?? 0,
    late: () => late,
    record: async (seconds) => {
      await output.context.audioWorklet.addModule('/tap.js');
      await output.context.resume();
      tap = new AudioWorkletNode(output.context, 'tap', { processorOptions: { seconds } });
      connect.call(output, tap);
      connect.call(tap, output.context.destination);
    },
    recorded: async () => {
      const taken = new Promise((resolve) => (tap.port.onmessage = ({ data }) => resolve(data)));
      tap.port.postMessage('take');
      const { samples, right, ...rest } = await taken;
      return { ...rest, pressed, samples: await base64(samples), right: await base64(right) };
    },
    /** Blocks the page for half a second, again and again; gives back a way to end it and how often it was. */
    hang: () => {
      let times = 0;
      const timer = setInterval(() => {
        const begun = performance.now();
        while (performance.now() - begun < 500);
        times += 1;
      }, 20);
      globalThis.levareTest.letGo = () => {
        clearInterval(timer);
        return times;
      };
    },
    /** The same without work for the processor: asks for what comes late, with the thread blocked until it is there. */
    hangFor: (address) => {
      let times = 0;
      const timer = setInterval(() => {
        const begun = performance.now();
        const request = new XMLHttpRequest();
        request.open('GET', address, false);
        request.send();
        if (performance.now() - begun >= 490) times += 1;
      }, 20);
      globalThis.levareTest.letGo = () => {
        clearInterval(timer);
        return times;
      };
    },
    /** The contrast of every visible text with what is behind it, and of ticks with the paper. */
    contrasts: () => {
      const found = [];
      const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
      for (let node = walker.nextNode(); node !== null; node = walker.nextNode()) {
        const element = node.parentElement;
        const text = node.textContent.trim();
        if (text === '' || element.closest('script, noscript, option') !== null) continue;
        if (!element.checkVisibility() && element.closest('svg') === null) continue;
        const style = getComputedStyle(element);
        const colour = element.closest('svg') === null ? style.color : style.fill;
        found.push({ what: text.slice(0, 40), kind: 'text', ratio: contrastOf(element, colour) });
      }
      for (const field of document.querySelectorAll('select, input[type=text]')) {
        const style = getComputedStyle(field, field.value === '' ? '::placeholder' : null);
        found.push({ what: field.name, kind: 'text', ratio: contrastOf(field, style.color) });
      }
      for (const stroke of document.querySelectorAll('.tick path'))
        found.push({
          what: stroke.parentElement.id,
          kind: 'tick',
          ratio: contrastOf(stroke, getComputedStyle(stroke).stroke),
        });
      return found;
    },
    /** Where the focus is, and how it is seen: its outline, on itself or on the label that holds it, against what is behind it. */
    focused: () => {
      const at = document.activeElement;
      if (at === null || at === document.body) return null;
      const label = at.closest('label');
      const outlined = (one) => {
        const { outlineStyle, outlineWidth, outlineColor } = getComputedStyle(one);
        return outlineStyle === 'none' ? null : { width: parseFloat(outlineWidth), colour: outlineColor };
      };
      const [shown, outline] = [at, label]
        .filter((one) => one !== null)
        .map((one) => [one, outlined(one)])
        .find(([, found]) => found !== null) ?? [at, null];
      const { top, bottom, left, right } = shown.getBoundingClientRect();
      const all = [...document.querySelectorAll('*')];
      return {
        what: nameOf(at),
        place: all.indexOf(at),
        music: at.matches('[data-key]'),
        outline: outline === null ? 0 : outline.width,
        ratio: outline === null ? 0 : contrastOf(shown.parentElement ?? shown, outline.colour),
        inView: bottom > 0 && right > 0 && top < innerHeight && left < innerWidth,
      };
    },
    /** What the Tab key should come to: of the music one stop, and every other control. */
    stops: () => {
      const all = [...document.querySelectorAll('*')];
      const controls = [
        ...document.querySelectorAll('button, select, input, textarea, summary, a[href]'),
      ].filter(
        (one) =>
          one.checkVisibility({ visibilityProperty: true }) && one.disabled !== true && one.tabIndex >= 0,
      );
      return controls.map((one) => ({ what: nameOf(one), place: all.indexOf(one) }));
    },
    /** Writes down what is said to those who do not see the page, from now on. */
    listen: () => {
      const said = [];
      new MutationObserver((changes) => {
        const live = '[aria-live], [role=status], [role=alert]';
        for (const { target, addedNodes } of changes) {
          const changed = (target instanceof Element ? target : target.parentElement)?.closest(live);
          const added = [...addedNodes].flatMap((one) =>
            one instanceof Element
              ? [one, ...one.querySelectorAll('*')].filter((each) => each.matches(live))
              : [],
          );
          for (const place of [changed, ...added]) {
            const text = place?.textContent.trim() ?? '';
            if (text !== '' && text !== said.at(-1)) said.push(text);
          }
        }
      }).observe(document.body, { subtree: true, childList: true, characterData: true });
      globalThis.levareTest.said = () => said;
    },
    /** Width and height of everything that can be touched. */
    targets: () =>
      [...document.querySelectorAll('button, select, input, summary, label, a')]
        .filter((one) => one.checkVisibility({ opacityProperty: false }))
        .map((one) => {
          const { width, height } = one.getBoundingClientRect();
          return { what: one.getAttribute('aria-label') ?? one.textContent ?? '', width, height };
        }),
    /** Size of sheet and window, and all that is drawn in the music: places and words, in their order. */
    drawn: () => ({
      width: document.querySelector('.sheet').clientWidth,
      height: innerHeight,
      drawn: [...document.querySelectorAll('.system svg *')].flatMap((one) => {
        const places = [...one.attributes]
          .filter(({ name }) => ['d', 'points', 'transform'].includes(name))
          .map(({ value }) => value);
        const text = one.localName === 'tspan' && one.children.length === 0 ? one.textContent : '';
        return text === '' ? places : [...places, text];
      }),
    }),
    ticks: (state) => [...document.querySelectorAll(`.tick${state ?? ''}`)].map(({ id }) => id),
  };
})();
