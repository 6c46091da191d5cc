import { useState } from 'preact/hooks';
import { planProblems, readRecipe } from '../../../recipe/index.js';
import { loadPlanner } from '../../../recipe/planner/index.js';
import { type ListedVersion, listPrints, serverKeeps, versionText } from '../print/kept-by-server.js';
import { NotDoneError } from '../server-link.js';
import { shownText } from '../shell/shown-text.js';
import type { PictureOnDesk } from './picture-on-desk.js';

interface Props {
  readonly picture: PictureOnDesk;
}

/** Any print that the archive has, to be laid beside this one on the same negative. */
export function KeptBeside({ picture }: Props) {
  const [versions, setVersions] = useState<readonly ListedVersion[] | undefined>(undefined);
  const [refusal, setRefusal] = useState('');
  if (!serverKeeps()) return null;
  const said = async (work: () => Promise<void>) => {
    try {
      await work();
      setRefusal('');
    } catch (error) {
      if (!(error instanceof NotDoneError)) throw error;
      setRefusal(error.message);
    }
  };
  const look = () => said(async () => setVersions((await listPrints()).versions));
  const lay = (content: string) =>
    said(async () => {
      const recipe = readRecipe(await versionText(content));
      const [problem] = planProblems(recipe);
      if (problem !== undefined) throw new NotDoneError(problem.message);
      picture.layBeside({ recipe, plan: loadPlanner().planRecipe(recipe) });
    });
  return (
    <>
      <button type="button" aria-expanded={versions !== undefined} onClick={() => void look()}>
        Lay a kept print beside
      </button>
      {versions !== undefined && (
        <label>
          which
          <select
            value=""
            onChange={({ currentTarget }) => {
              void lay(currentTarget.value);
              setVersions(undefined);
            }}
          >
            <option value="">{versions.length === 0 ? 'the archive has none yet' : 'choose a print'}</option>
            {versions.map(({ content, title, version }) => (
              <option key={content} value={content}>
                {shownText(`${title}, version ${version}`)}
              </option>
            ))}
          </select>
        </label>
      )}
      {refusal !== '' && <p role="alert">{shownText(refusal)}</p>}
    </>
  );
}
