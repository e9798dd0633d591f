export type Light = 'system' | 'day' | 'night';

const KEY = 'eachacre-light';

/** Day or night: what the system asks for, unless chosen here (kept in this browser). */
export function createAppearance() {
  const asked = matchMedia('(prefers-color-scheme: dark)');
  const narrowScreen = matchMedia('(max-width: 760px)');
  const before = kept();
  let light = $state<Light>(before);
  let systemNight = $state(asked.matches);
  let narrow = $state(narrowScreen.matches);
  asked.addEventListener('change', () => {
    systemNight = asked.matches;
  });
  narrowScreen.addEventListener('change', () => {
    narrow = narrowScreen.matches;
  });
  show(before);

  return {
    get night() {
      return light === 'night' || (light === 'system' && systemNight);
    },
    get narrow() {
      return narrow;
    },
    get light() {
      return light;
    },
    set light(next: Light) {
      light = next;
      show(next);
      keep(next);
    },
  };
}

export type Appearance = ReturnType<typeof createAppearance>;

function show(light: Light): void {
  if (light === 'system') delete document.documentElement.dataset['light'];
  else document.documentElement.dataset['light'] = light;
}

/** Storage may be refused (private windows); the choice then lasts as long as the window. */
function kept(): Light {
  try {
    const found = localStorage.getItem(KEY);
    return found === 'day' || found === 'night' ? found : 'system';
  } catch {
    return 'system';
  }
}

function keep(light: Light): void {
  try {
    if (light === 'system') localStorage.removeItem(KEY);
    else localStorage.setItem(KEY, light);
  } catch {
    return;
  }
}
